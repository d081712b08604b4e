import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { type AuditedJob, type GasSide, listAudits } from '@/lib/data/gas-audit'
import { listMySites } from '@/lib/data/sites'
import { formatNumber } from '@/lib/format/numbers'
import { AuditRows } from './audit-rows'
import { AuditTable } from './audit-table'
import { type Units, volumeOf, volumeUnit } from './audit-view'

type AuditPageProps = Readonly<{
  searchParams: Promise<{ site?: string; gas?: string; after?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('audit'))('title') }
}

export default async function AuditPage({ searchParams }: AuditPageProps) {
  const viewer = await requireViewer()
  const asked = await searchParams
  const side: GasSide = asked.gas === 'fuel' ? 'fuel' : 'oxygen'
  const t = await getTranslations('audit')
  const [{ jobs, next }, sites] = await Promise.all([
    found(listAudits(viewer, { siteId: asked.site ?? null, after: asked.after ?? null })),
    listMySites(viewer),
  ])
  const to = (change: Readonly<Record<string, string | undefined>>) => {
    const entries = Object.entries({ site: asked.site, gas: side, ...change }).filter(
      ([, value]) => value,
    )
    return `/audit?${new URLSearchParams(entries as [string, string][])}`
  }
  const sentence = await mostOff(jobs, side, viewer.units)
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/me" />
      <DeskPageHead
        title={t('title')}
        sentence={sentence}
        actions={
          <ButtonLink
            href={`/api/audit/csv?${new URLSearchParams({ gas: side, ...(asked.site ? { site: asked.site } : {}) })}`}
          >
            {t('csv')}
          </ButtonLink>
        }
      />
      <nav className="flex flex-wrap gap-x-6 gap-y-1 px-4 pb-2 desk:px-8" aria-label={t('filter')}>
        {(['oxygen', 'fuel'] as const).map((one) => (
          <Link
            key={one}
            href={to({ gas: one, after: undefined })}
            className="block min-h-12 content-center border-b-4 border-transparent whitespace-nowrap text-ink aria-[current]:border-cobalt aria-[current]:font-[650] desk:min-h-8"
            aria-current={one === side ? 'page' : undefined}
          >
            {t(`sides.${one}`)}
          </Link>
        ))}
        {sites.length > 1
          ? [{ id: undefined, shortName: t('allSites') }, ...sites].map((site) => (
              <Link
                key={site.id ?? 'all'}
                href={to({ site: site.id, after: undefined })}
                className="block min-h-12 content-center border-b-4 border-transparent whitespace-nowrap text-ink aria-[current]:border-cobalt aria-[current]:font-[650] desk:min-h-8"
                aria-current={asked.site === site.id ? 'page' : undefined}
              >
                {site.shortName}
              </Link>
            ))
          : null}
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
          <ButtonLink href={to({ after: next })}>{t('older')}</ButtonLink>
        </p>
      ) : null}
    </>
  )
}

/** The job furthest from its estimate, where the interval leaves no doubt. */
async function mostOff(jobs: readonly AuditedJob[], side: GasSide, units: Units) {
  const t = await getTranslations('audit')
  const off = jobs
    .filter((job) => job[side] && job[side].ratio.low90 > 1)
    .sort((a, b) => (b[side]?.difference.mean ?? 0) - (a[side]?.difference.mean ?? 0))[0]
  const audit = off?.[side]
  if (!off || !audit) return t('noneOff')
  const more = formatNumber(volumeOf(audit.gas, audit.difference.mean, units))
  return t.rich('mostOff', {
    number: off.number,
    more,
    unit: volumeUnit(units),
    b: (words) => <b>{words}</b>,
  })
}
