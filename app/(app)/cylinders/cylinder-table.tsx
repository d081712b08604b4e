import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import type { CylinderRow } from '@/lib/data/cylinders-shown'
import type { FormatPrefs } from '@/lib/format/prefs'
import { withUnit } from '../jobs/figures'
import { contentsFigure } from './contents-figure'
import { DueWords, ReadWords, WhereWords } from './cylinder-words'

type Listed = Readonly<{ cylinders: readonly CylinderRow[]; prefs: FormatPrefs; now: Date }>

export function CylinderTable({ cylinders, prefs, now }: Listed) {
  const t = useTranslations('cylinders')
  const head = (
    <>
      <Column>{t('serial')}</Column>
      <Column>{t('gasHead')}</Column>
      <Column>{t('size')}</Column>
      <Column isFigure>{t('contentsAbout')}</Column>
      <Column>{t('nineInTen')}</Column>
      <Column>{t('statusHead')}</Column>
      <Column>{t('where')}</Column>
      <Column>{t('lastRead')}</Column>
      <Column>{t('due')}</Column>
    </>
  )
  return (
    <DataTable caption={t('tableCaption')} head={head}>
      <tbody>
        {cylinders.map((cylinder) => (
          <tr key={cylinder.id}>
            <td>
              <Link
                href={`/cylinders/${cylinder.id}`}
                className="type-ident text-ink underline decoration-cobalt underline-offset-4"
              >
                {cylinder.serial}
              </Link>
            </td>
            <td>{t(`gas.${cylinder.gasId}` as 'gas.oxygen')}</td>
            <td>{cylinder.sizeName}</td>
            <ContentsCells cylinder={cylinder} prefs={prefs} />
            <td>
              <b>{t(`status.${cylinder.status}`)}</b>
            </td>
            <td>
              <WhereWords cylinder={cylinder} />
            </td>
            <td>
              <ReadWords at={cylinder.lastReadingAt} now={now} prefs={prefs} />
            </td>
            <td>
              <DueWords cylinder={cylinder} />
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}

function ContentsCells({
  cylinder,
  prefs,
}: Readonly<{ cylinder: CylinderRow; prefs: FormatPrefs }>) {
  const figure = contentsFigure(cylinder, prefs)
  if (!figure)
    return (
      <>
        <td className="is-figure text-ink-3">?</td>
        <td />
      </>
    )
  return <FigureCells value={withUnit(figure)} interval={figure.interval} />
}
