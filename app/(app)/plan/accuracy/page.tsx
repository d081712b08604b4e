import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { Column, DataTable } from '@/app/_components/data-table'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import type { BacktestRow } from '@/lib/calc/backtest'
import { getAccuracy } from '@/lib/data/plan/accuracy'
import { percentWords } from '../percent-words'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('plan.accuracy'))('title') }
}

/** Forecasts against what came, by kind of demand, the bad ones too. */
export default async function AccuracyPage() {
  const viewer = await requireViewer()
  const t = await getTranslations('plan.accuracy')
  const { days, weeks, tested } = await found(getAccuracy(viewer))
  const sentence = t('looksAt', { days, weeks })
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/plan" />
      <DeskPageHead title={t('title')} sentence={sentence} />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-8 px-4 py-2 desk:px-8">
        {tested ? (
          <>
            <Rows
              caption={t('byClass')}
              rows={tested.byClass.map((row) => ({
                row,
                name: t(`class.${row.demandClass}`),
              }))}
            />
            <Rows
              caption={t('byMethod')}
              rows={tested.rows.map((row) => ({ row, name: t(`method.${row.method}`) }))}
            />
            <p className="type-small text-ink-2">{t('rests', { series: tested.series })}</p>
          </>
        ) : (
          <p className="text-ink-2">{t('nothingYet')}</p>
        )}
      </div>
    </>
  )
}

type RowsProps = Readonly<{
  caption: string
  rows: readonly Readonly<{ name: string; row: BacktestRow }>[]
}>

async function Rows({ caption, rows }: RowsProps) {
  const t = await getTranslations('plan.accuracy')
  return (
    <section>
      <h2 className="type-section mb-1">{caption}</h2>
      <DataTable
        caption={caption}
        isWide
        head={
          <>
            <Column>{t('which')}</Column>
            <Column isFigure>{t('windows')}</Column>
            <Column isFigure>{t('bias')}</Column>
            <Column isFigure colSpan={2}>
              {t('held')}
            </Column>
            <Column isFigure>{t('loss')}</Column>
          </>
        }
      >
        <tbody>
          {rows.map(({ name, row }) => {
            const held = row.coverage[1]
            return (
              <tr key={name}>
                <td className="font-[650]">{name}</td>
                <td className="is-figure">{row.windows}</td>
                <td className="is-figure">
                  {row.bias === null ? t('noUse') : row.bias.toFixed(2)}
                </td>
                <td className="is-figure">{held ? percentWords(held.share) : ''}</td>
                <td className="is-interval">
                  {held ? `${percentWords(held.low)}–${percentWords(held.high)}` : ''}
                </td>
                <td className="is-figure">{(row.pinball[1] ?? 0).toFixed(2)}</td>
              </tr>
            )
          })}
        </tbody>
      </DataTable>
    </section>
  )
}
