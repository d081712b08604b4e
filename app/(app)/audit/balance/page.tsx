import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { LossChart } from '@/app/_components/charts/loss-chart'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import { volumeOf, volumeUnit } from '@/app/(app)/audit/audit-view'
import { FileLink } from '@/app/(app)/audit/file-link'
import { FilterWords } from '@/app/(app)/audit/filter-words'
import { requireViewer } from '@/lib/auth/viewer'
import { FALSE_ALARMS_A_YEAR, USUAL_ALARMS_A_YEAR } from '@/lib/calc/site-balance'
import { getSiteBalance, type SiteGasBalance } from '@/lib/data/findings/balance'
import { formatDate } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { type BalanceFilter, balanceFilterSchema } from '@/lib/schemas/finding'

type BalancePageProps = Readonly<{ searchParams: Promise<Record<string, string | undefined>> }>

const PERIODS = [13, 26, 52] as const
const ROWS = ['expected', 'overWork', 'lost', 'left'] as const

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('balance'))('title') }
}

const rateWord = (alarms: number) =>
  alarms === USUAL_ALARMS_A_YEAR ? 'usual' : alarms > USUAL_ALARMS_A_YEAR ? 'more' : 'fewer'

const queryOf = ({ site, gas, weeks, alarms }: BalanceFilter) =>
  new URLSearchParams({
    weeks: String(weeks),
    ...(alarms === USUAL_ALARMS_A_YEAR ? {} : { alarms: String(alarms) }),
    ...(site ? { site } : {}),
    ...(gas ? { gas } : {}),
  }).toString()

const addressOf = (filter: BalanceFilter) => `/audit/balance?${queryOf(filter)}`

export default async function BalancePage({ searchParams }: BalancePageProps) {
  const viewer = await requireViewer()
  const { site, gas, weeks, alarms } = await searchParams
  const asked = balanceFilterSchema.parse({ site: site || null, gas: gas || null, weeks, alarms })
  const page = await found(getSiteBalance(viewer, asked))
  const filter = { ...asked, site: page.siteId, gas: page.balance?.gas ?? null }
  const t = await getTranslations('balance')
  const a = await getTranslations('audit')
  const { balance } = page
  const prefs: FormatPrefs = {
    units: viewer.units,
    clock: viewer.clock,
    timeZone: balance?.zone ?? 'UTC',
  }
  const sentence = balance ? <BalanceSentence balance={balance} prefs={prefs} /> : t('none')
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/audit" />
      <DeskPageHead title={t('title')} sentence={sentence} />
      <nav className="flex flex-wrap gap-x-10 gap-y-1 px-4 pb-2 desk:px-8" aria-label={t('filter')}>
        <FilterWords
          words={page.gases.map((one) => ({
            href: addressOf({ ...filter, gas: one }),
            label: a('gasName', { gas: one }),
            isCurrent: one === filter.gas,
          }))}
        />
        <FilterWords
          words={PERIODS.map((one) => ({
            href: addressOf({ ...filter, weeks: one }),
            label: t('weeks', { count: one }),
            isCurrent: one === filter.weeks,
          }))}
        />
        <FilterWords
          words={page.sites.map((one) => ({
            href: addressOf({ ...filter, site: one.id }),
            label: one.shortName,
            isCurrent: one.id === page.siteId,
          }))}
        />
        <FilterWords
          words={FALSE_ALARMS_A_YEAR.map((one) => ({
            href: addressOf({ ...filter, alarms: one }),
            label: t('alarms', { rate: rateWord(one) }),
            isCurrent: one === filter.alarms,
          }))}
        />
      </nav>
      {balance ? (
        <div className="grid gap-10 px-4 py-2 desk:px-8 wide:grid-cols-[minmax(0,5fr)_minmax(0,6fr)] wide:gap-12">
          <Sums balance={balance} prefs={prefs} />
          <Losses balance={balance} prefs={prefs} alarms={filter.alarms} />
          <p>
            <FileLink href={`/api/audit/csv?what=weeks&${queryOf(filter)}`}>{t('csv')}</FileLink>
          </p>
        </div>
      ) : (
        <EmptyState title={t('none')} next={t('noneNext')} />
      )}
    </>
  )
}

type PartProps = Readonly<{ balance: SiteGasBalance; prefs: FormatPrefs }>

async function BalanceSentence({ balance, prefs }: PartProps) {
  const t = await getTranslations('balance')
  const { unexplained } = balance.period
  const at = (kg: number) => volumeOf(balance.gas, kg, prefs.units)
  const isSure = unexplained.low90Kg > 0 || unexplained.high90Kg < 0
  return t.rich(isSure ? 'unexplained' : 'explained', {
    site: balance.siteName,
    value: formatNumber(at(Math.abs(unexplained.kg))),
    sign: unexplained.kg > 0 ? 'more' : 'less',
    unit: volumeUnit(prefs.units),
    b: (words) => <b>{words}</b>,
  })
}

/** What left the cylinders, and where it went: it adds up. */
async function Sums({ balance, prefs }: PartProps) {
  const t = await getTranslations('balance')
  const unit = volumeUnit(prefs.units)
  const at = (kg: number) => volumeOf(balance.gas, kg, prefs.units)
  return (
    <section className="min-w-0">
      <h2 className="type-section mb-1">{t('sums', { count: balance.shownWeeks })}</h2>
      <DataTable
        caption={t('sumsCaption')}
        head={
          <>
            <Column>{t('where')}</Column>
            <Column isFigure colSpan={2}>
              {unit}
            </Column>
          </>
        }
      >
        <tbody>
          {ROWS.map((row) => {
            const { kg, low90Kg, high90Kg } = balance.period[row]
            return (
              <tr key={row}>
                <th scope="row" className={row === 'left' ? 'font-[650]' : ''}>
                  {t(`rows.${row}`)}
                </th>
                <FigureCells
                  value={formatNumber(at(kg))}
                  interval={formatInterval(at(low90Kg), at(high90Kg))}
                  isTrouble={row !== 'left' && row !== 'expected' && low90Kg > 0}
                />
              </tr>
            )
          })}
        </tbody>
      </DataTable>
      <p className="mt-2 type-small text-ink-2">{t('sumsMethod')}</p>
    </section>
  )
}

async function Losses({
  balance,
  prefs,
  alarms,
}: PartProps & Readonly<{ alarms: BalanceFilter['alarms'] }>) {
  const t = await getTranslations('balance')
  const { points, plan, signal } = balance.chart
  const shown = points.slice(-balance.shownWeeks)
  const at = (kg: number) => volumeOf(balance.gas, kg, prefs.units)
  // Weeks are counted from Mondays of universal time.
  const day = (ms: number) => formatDate(ms, { timeZone: 'UTC' })
  const isOnsetShown = signal !== null && shown.some((one) => one.fromMs === signal.onsetMs)
  return (
    <section className="min-w-0">
      <h2 className="type-section mb-2 border-b-2 border-ink pb-1">{t('losses')}</h2>
      <LossChart
        points={shown.map((one) => ({
          atMs: one.fromMs,
          value: one.state.sum,
          isOut: one.state.isOut,
          high: plan.h,
        }))}
        limitWords={t('limit', { h: formatNumber(plan.h, 1) })}
        onset={
          isOnsetShown && signal
            ? { atMs: signal.onsetMs, words: t('onset', { day: day(signal.onsetMs) }) }
            : null
        }
        formatDay={day}
        label={t('chartLabel')}
      />
      <p className="mt-1 type-small text-ink-2">
        {signal ? t('out', { day: day(signal.outMs), onset: day(signal.onsetMs) }) : t('in')}{' '}
        {t('chartMethod', { rate: rateWord(alarms) })}
      </p>
      <h3 className="mt-4 text-[14px] font-[650]">{t('average')}</h3>
      <LossChart
        points={shown.map(({ fromMs, average }) => ({
          atMs: fromMs,
          value: average.average,
          isOut: average.isOut,
          high: average.high,
          low: average.low,
        }))}
        limitWords={t('averageLimit', { width: formatNumber(shown.at(-1)?.average.high ?? 0, 2) })}
        onset={null}
        formatDay={day}
        label={t('averageLabel')}
      />
      <p className="mt-1 type-small text-ink-2">{t('averageMethod')}</p>
      <DataTable
        isWide
        caption={t('weekCaption')}
        head={
          <>
            <Column>{t('week')}</Column>
            <Column isFigure>{t('lost', { unit: volumeUnit(prefs.units) })}</Column>
            <Column isFigure>{t('deviations')}</Column>
            <Column isFigure>{t('summed')}</Column>
            <Column isFigure>{t('averaged')}</Column>
          </>
        }
      >
        <tbody>
          {[...shown].reverse().map((one) => (
            <tr key={one.fromMs}>
              <td className="whitespace-nowrap">{day(one.fromMs)}</td>
              <td className="is-figure">{formatNumber(at(one.lost.kg))}</td>
              <td className="is-figure">{formatNumber(one.z, 1)}</td>
              <td className={`is-figure ${one.state.isOut ? 'is-trouble' : ''}`}>
                {formatNumber(one.state.sum, 1)}
              </td>
              <td className={`is-figure ${one.average.isOut ? 'is-trouble' : ''}`}>
                {formatNumber(one.average.average, 2)}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </section>
  )
}
