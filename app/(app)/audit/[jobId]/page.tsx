import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import type { JobAudit } from '@/lib/calc/audit-types'
import { listFindingsOfJob } from '@/lib/data/findings/list'
import { type GasSide, getJobAudit, type JobAuditDetail } from '@/lib/data/gas-audit'
import { formatWhen } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { niceStep, percentDone, volumeOf, volumesOf, volumeUnit, whyNothing } from '../audit-view'
import { FileLink } from '../file-link'
import { EntriesTable } from './entries-table'
import { IntervalsTable } from './intervals-table'
import { accountOf, JobAccountTable, JobFindings } from './job-account'
import { Narrower } from './narrower'
import { SharedUseTable } from './shared-use-table'
import { type ChartRow, UsageChart } from './usage-chart'

type JobAuditPageProps = Readonly<{
  params: Promise<{ jobId: string }>
  searchParams: Promise<Partial<Record<PageKey, string | string[]>>>
}>

/** Names in the address, a gas each: where its intervals go on, and where its entries do. */
const ENTRIES = { oxygen: 'oxygenEntries', fuel: 'fuelEntries' } as const
type PageKey = GasSide | (typeof ENTRIES)[GasSide]

const SIDES: readonly GasSide[] = ['oxygen', 'fuel']

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('audit'))('jobTitle') }
}

export default async function JobAuditPage({ params, searchParams }: JobAuditPageProps) {
  const viewer = await requireViewer()
  const pages = await searchParams
  const job = await found(
    getJobAudit(viewer, (await params).jobId, {
      after: {
        oxygen: pages[ENTRIES.oxygen]?.toString(),
        fuel: pages[ENTRIES.fuel]?.toString(),
      },
    }),
  )
  const [{ nowMs }, { findings }] = await Promise.all([
    frameFor(viewer),
    listFindingsOfJob(viewer, job),
  ])
  const t = await getTranslations('audit')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: job.zone }
  const title = t('ofJob', { number: job.number })
  const where = t('where', { title: job.title, site: job.siteName })
  const audits = SIDES.flatMap((side) => (job[side] ? [job[side]] : []))
  const to = (key: PageKey, after: string, place: string) => {
    const kept = Object.entries(pages).flatMap(([name, value]) =>
      value ? [[name, value.toString()]] : [],
    )
    const query = new URLSearchParams({ ...Object.fromEntries(kept), [key]: after })
    return `/audit/${job.id}?${query}#${place}`
  }
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={title} where={where} backHref="/audit" />
      <DeskPageHead title={title} sentence={where} />
      <div className="px-4 py-2 desk:px-8">
        {audits.length === 0 ? (
          <p className="type-row-title py-3">{t(`${whyNothing(job, 'oxygen')}Long`)}</p>
        ) : (
          <div className="grid gap-10 wide:grid-cols-[minmax(0,5fr)_minmax(0,9fr)] wide:gap-12">
            <section className="min-w-0">
              <h2 className="type-section mb-2 border-b-2 border-ink pb-1">{t('estimateUsed')}</h2>
              {audits.map((audit) => (
                <GasChart key={audit.gas} job={job} audit={audit} prefs={prefs} />
              ))}
              <p className="mt-1 type-small text-ink-2">{t('chartKey')}</p>
              <Figures audits={audits} prefs={prefs} />
              {audits.map((audit) => (
                <div key={audit.gas} className="mt-4">
                  <JobAccountTable job={job} audit={audit} prefs={prefs} />
                  <Narrower job={job} audit={audit} prefs={prefs} />
                </div>
              ))}
              <Basis job={job} prefs={prefs} now={new Date(nowMs)} />
              <JobFindings findings={findings} prefs={prefs} />
            </section>
            <div className="grid min-w-0 content-start gap-8">
              {audits.map((audit) => (
                <section
                  key={audit.gas}
                  id={`intervals-${audit.gas}`}
                  className="min-w-0 overflow-x-auto"
                >
                  <h2 className="type-section mb-1">{t('byInterval', { gas: audit.gas })}</h2>
                  <IntervalsTable
                    job={job}
                    audit={audit}
                    prefs={prefs}
                    after={pages[sideOf(audit)]?.toString()}
                    nextHref={(key) => to(sideOf(audit), key, `intervals-${audit.gas}`)}
                  />
                  <SharedUseTable job={job} gas={audit.gas} prefs={prefs} />
                  {audit.incompleteCylinderIds.length > 0 ? (
                    <p className="trouble mt-2">
                      {t('incomplete', { count: audit.incompleteCylinderIds.length })}
                    </p>
                  ) : null}
                </section>
              ))}
            </div>
            <div className="grid min-w-0 gap-8 wide:col-span-2">
              {audits.map((audit) => {
                const entries = job.entries[sideOf(audit)]
                const nextHref = entries.next
                  ? to(ENTRIES[sideOf(audit)], entries.next, `entries-${audit.gas}`)
                  : null
                return <EntriesTable key={audit.gas} {...{ audit, entries, prefs, nextHref }} />
              })}
            </div>
            <p className="flex flex-wrap gap-x-6 py-2 wide:col-span-2">
              {(['csv', 'xlsx', 'pdf'] as const).map((kind) => (
                <FileLink key={kind} href={`/api/audit/${kind}?job=${job.id}`}>
                  {t(kind)}
                </FileLink>
              ))}
            </p>
          </div>
        )}
      </div>
    </PrefsProvider>
  )
}

const sideOf = ({ gas }: JobAudit): GasSide => (gas === 'oxygen' ? 'oxygen' : 'fuel')

/** Each row begins where the one above it ended: estimate, the crew's habit, what neither explains, use. */
function stepsOf(job: JobAuditDetail, audit: JobAudit, units: FormatPrefs['units']) {
  const { estimate, allowance, rest } = accountOf(job, audit)
  const at = (kg: number) => volumeOf(audit.gas, Math.max(0, kg), units)
  const step = (from: number, { mean, low90, high90 }: typeof rest): Omit<ChartRow, 'name'> => {
    const [began, low, middle, high] = [from, from + low90, from + mean, from + high90].map(at) as [
      number,
      number,
      number,
      number,
    ]
    const range = [Math.min(began, low), Math.max(began, high)] as const
    return { kind: 'step', range, marks: [began, low, high], middle }
  }
  return {
    allowance: step(estimate.mean, allowance),
    rest: step(estimate.mean + allowance.mean, rest),
  }
}

async function GasChart({
  job,
  audit,
  prefs,
}: Readonly<{ job: JobAuditDetail; audit: JobAudit; prefs: FormatPrefs }>) {
  const t = await getTranslations('audit')
  const { estimate, used } = volumesOf(audit, prefs.units)
  const { allowance, rest } = stepsOf(job, audit, prefs.units)
  const top = Math.max(estimate.high, used.p95, allowance.range[1], rest.range[1]) * 1.04
  const step = niceStep(top)
  const rows: ChartRow[] = [
    {
      name: t('chartEstimate'),
      kind: 'estimate',
      range: [estimate.low, estimate.high],
      marks: [estimate.middle],
      middle: estimate.middle,
    },
    { name: t('chartAllowance'), ...allowance },
    { name: t('chartRest'), ...rest },
    {
      name: t('chartUsed'),
      kind: 'used',
      range: [0, used.p95],
      marks: [used.p05, used.p275, used.p50, used.p725, used.p95],
      middle: used.p50,
    },
  ]
  return (
    <>
      <h3 className="mt-2 text-[14px] font-[650]">{t('gasName', { gas: audit.gas })}</h3>
      <UsageChart
        rows={rows}
        unit={volumeUnit(prefs.units)}
        ticks={Array.from({ length: Math.floor(top / step) + 1 }, (_, index) => index * step)}
        top={top}
        label={t('chartLabel', { gas: audit.gas })}
      />
    </>
  )
}

/** The chart's table: it adds up. */
async function Figures({
  audits,
  prefs,
}: Readonly<{ audits: readonly JobAudit[]; prefs: FormatPrefs }>) {
  const t = await getTranslations('audit')
  const unit = volumeUnit(prefs.units)
  return (
    <table className="data-table mt-4 max-desk:[&_td]:pr-1.5 max-desk:[&_th]:pr-1.5">
      <caption className="sr-only">{t('figures')}</caption>
      <thead>
        <tr>
          <th scope="col">{t('gas')}</th>
          <th scope="col" className="is-figure">
            {t('estimate', { unit })}
          </th>
          <th scope="col" className="is-figure">
            {t('used', { unit })}
          </th>
          <th scope="col" className="is-figure hidden desk:table-cell">
            {t('difference')}
          </th>
          <th scope="col" className="is-figure">
            {t('ratio')}
          </th>
        </tr>
      </thead>
      <tbody>
        {audits.map((audit) => {
          const { estimate, used } = volumesOf(audit, prefs.units)
          return (
            <tr key={audit.gas}>
              <th scope="row">{t('gasName', { gas: audit.gas })}</th>
              <td className="is-figure">
                {formatNumber(estimate.middle)}{' '}
                <span className="text-ink-2 max-desk:block">
                  {formatInterval(estimate.low, estimate.high)}
                </span>
              </td>
              <td className="is-figure">
                {formatNumber(used.p50)}{' '}
                <span className="text-ink-2 max-desk:block">
                  {formatInterval(used.p05, used.p95)}
                </span>
              </td>
              <td className="is-figure hidden desk:table-cell">
                {formatNumber(used.p50 - estimate.middle)}
              </td>
              <td className="is-figure">
                <b>{formatNumber(audit.ratio.mean, 2)}</b>{' '}
                <span className="text-ink-2 max-desk:block">
                  {formatInterval(audit.ratio.low90, audit.ratio.high90, 2)}
                </span>
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

async function Basis({
  job,
  prefs,
  now,
}: Readonly<{ job: JobAuditDetail; prefs: FormatPrefs; now: Date }>) {
  const t = await getTranslations('audit')
  if (!job.estimate) return null
  const whole = volumeOf('oxygen', job.estimate.oxygen_kg, prefs.units)
  return (
    <>
      <p className="mt-3 type-small text-ink-2">
        {t('basis', { time: formatWhen(job.estimate.kept_at, now, prefs) })}{' '}
        {job.done
          ? t('basisShare', {
              percent: percentDone(job, 'oxygen') ?? 0,
              whole: `${formatNumber(whole)} ${volumeUnit(prefs.units)}`,
            })
          : null}{' '}
        {t('method')}
      </p>
      {job.done && job.done.unestimatedPieces > 0 ? (
        <p className="trouble mt-2">{t('unestimated', { count: job.done.unestimatedPieces })}</p>
      ) : null}
    </>
  )
}
