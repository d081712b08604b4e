import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { getCompanyAudit } from '@/lib/data/company-audit'
import { type AuditedJob, type GasSide, listAudits } from '@/lib/data/gas-audit'
import { listMySites } from '@/lib/data/sites'
import { formatNumber } from '@/lib/format/numbers'
import { AuditRows } from './audit-rows'
import { AuditTable } from './audit-table'
import { PERIODS, periodOf, periodText, type Units, volumeOf, volumeUnit } from './audit-view'
import { CrewFactors } from './crew-factors'
import { FilterWords } from './filter-words'
import { Unaccounted } from './unaccounted'

type AuditPageProps = Readonly<{
  searchParams: Promise<{
    site?: string
    gas?: string
    days?: string
    order?: string
    after?: string
    crews?: string
    unaccounted?: string
  }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('audit'))('title') }
}

export default async function AuditPage({ searchParams }: AuditPageProps) {
  const viewer = await requireViewer()
  const asked = await searchParams
  const side: GasSide = asked.gas === 'fuel' ? 'fuel' : 'oxygen'
  const period = periodOf(asked.days)
  const t = await getTranslations('audit')
  const order = asked.order === 'off' ? 'off' : 'latest'
  const where = { siteId: asked.site ?? null, days: period }
  const [{ jobs, next }, sites, company] = await Promise.all([
    found(listAudits(viewer, { ...where, after: asked.after ?? null, order, side })),
    listMySites(viewer),
    found(getCompanyAudit(viewer, where, { crews: asked.crews, unaccounted: asked.unaccounted })),
  ])
  const filter = {
    site: asked.site,
    gas: side,
    days: periodText(period),
    order: order === 'off' ? order : undefined,
  }
  const to = (change: Readonly<Record<string, string | undefined>>) =>
    `/audit?${query({ ...filter, ...change })}`
  const sentence = (
    <>
      {t('looksAt', { side, days: periodText(period) })} {await mostOff(jobs, side, viewer.units)}
    </>
  )
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/me" />
      <DeskPageHead
        title={t('title')}
        sentence={sentence}
        actions={
          <>
            <ButtonLink href="/audit/findings">{t('findings')}</ButtonLink>
            <a className="btn" href={`/api/audit/csv?${query(filter)}`} download>
              {t('csv')}
            </a>
          </>
        }
      />
      <p className="px-4 pb-2 desk:hidden">
        <ButtonLink href="/audit/findings" isWide>
          {t('findings')}
        </ButtonLink>
      </p>
      <nav className="flex flex-wrap gap-x-10 gap-y-1 px-4 pb-2 desk:px-8" aria-label={t('filter')}>
        <FilterWords
          words={(['oxygen', 'fuel'] as const).map((one) => ({
            href: to({ gas: one }),
            label: t(`sides.${one}`),
            isCurrent: one === side,
          }))}
        />
        <FilterWords
          words={(['latest', 'off'] as const).map((one) => ({
            href: to({ order: one === 'off' ? one : undefined }),
            label: t(`order.${one}`),
            isCurrent: one === order,
          }))}
        />
        <FilterWords
          words={PERIODS.map((one) => ({
            href: to({ days: periodText(one) }),
            label: t('period', { days: periodText(one) }),
            isCurrent: one === period,
          }))}
        />
        {sites.length > 1 ? (
          <FilterWords
            words={[{ id: undefined, shortName: t('allSites') }, ...sites].map((site) => ({
              href: to({ site: site.id }),
              label: site.shortName,
              isCurrent: asked.site === site.id,
            }))}
          />
        ) : null}
      </nav>
      {jobs.length === 0 ? (
        <EmptyState title={t('empty')} next={t('emptyNext')} />
      ) : (
        <>
          <div className="desk:hidden">
            <AuditRows jobs={jobs} side={side} units={viewer.units} />
          </div>
          <div className="desk-body hidden desk:block">
            <AuditTable jobs={jobs} side={side} units={viewer.units} />
          </div>
        </>
      )}
      {next ? (
        <p className="px-4 py-3 desk:px-8">
          <ButtonLink href={to({ after: next })}>{t(`more.${order}`)}</ButtonLink>
        </p>
      ) : null}
      <div className="grid gap-10 px-4 py-4 desk:px-8 wide:grid-cols-[minmax(0,1fr)_minmax(0,1fr)] wide:gap-12">
        <CrewFactors
          page={company.crews}
          nextHref={company.crews.next ? to({ crews: company.crews.next }) : null}
          csvHref={`/api/audit/csv?${query({ ...filter, what: 'crews' })}`}
        />
        <Unaccounted
          page={company.unaccounted}
          nextHref={company.unaccounted.next ? to({ unaccounted: company.unaccounted.next }) : null}
          units={viewer.units}
          csvHref={`/api/audit/csv?${query({ ...filter, what: 'unaccounted' })}`}
        />
      </div>
      <p className="flex flex-wrap gap-x-6 px-4 py-2 desk:px-8">
        <Link
          href="/audit/balance"
          className="block min-h-12 content-center text-ink underline decoration-cobalt underline-offset-4 desk:min-h-8"
        >
          {t('siteBalance')}
        </Link>
        {(['xlsx', 'pdf'] as const).map((kind) => (
          <a
            key={kind}
            href={`/api/audit/${kind}?${query(filter)}`}
            className="block min-h-12 content-center text-ink underline decoration-cobalt underline-offset-4 desk:min-h-8"
            download
          >
            {t(kind)}
          </a>
        ))}
      </p>
    </>
  )
}

/** An address's query, without what is not asked for. */
function query(fields: Readonly<Record<string, string | undefined>>): string {
  const asked = Object.entries(fields).filter((entry): entry is [string, string] => !!entry[1])
  return new URLSearchParams(asked).toString()
}

/** The job furthest past its estimate, and whether its interval leaves a doubt. */
async function mostOff(jobs: readonly AuditedJob[], side: GasSide, units: Units) {
  const t = await getTranslations('audit')
  const over = jobs
    .flatMap((job) => (job[side] ? [{ job, audit: job[side] }] : []))
    .filter(({ audit }) => audit.difference.mean > 0)
  const sure = over
    .filter(({ audit }) => audit.ratio.low90 > 1)
    .sort((a, b) => b.audit.difference.mean - a.audit.difference.mean)[0]
  if (sure)
    return t.rich('mostOff', {
      number: sure.job.number,
      more: formatNumber(volumeOf(sure.audit.gas, sure.audit.difference.mean, units)),
      unit: volumeUnit(units),
      b: (words) => <b>{words}</b>,
    })
  const furthest = over.sort((a, b) => b.audit.ratio.mean - a.audit.ratio.mean)[0]
  if (!furthest) return t('noneOff')
  return t('furthest', {
    number: furthest.job.number,
    ratio: formatNumber(furthest.audit.ratio.mean, 2),
  })
}
