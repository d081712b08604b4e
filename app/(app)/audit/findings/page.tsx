import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import { FilterWords } from '@/app/(app)/audit/filter-words'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import { type FindingQueue, listFindings } from '@/lib/data/findings/list'
import { formatWhen } from '@/lib/format/clock'
import { type FindingFilter, findingFilterSchema } from '@/lib/schemas/finding'
import { FindingRows, FindingTable } from './finding-list'
import { LookForm } from './look-form'
import { LookProgress } from './look-progress'

type FindingsPageProps = Readonly<{ searchParams: Promise<Record<string, string | undefined>> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('findings'))('heading') }
}

const addressOf = ({ site, show }: FindingFilter, after?: string) =>
  `/audit/findings?${new URLSearchParams({ show, ...(site ? { site } : {}), ...(after ? { after } : {}) })}`

export default async function FindingsPage({ searchParams }: FindingsPageProps) {
  const viewer = await requireViewer()
  const { site, show, after } = await searchParams
  const filter = findingFilterSchema.parse({ site: site || null, show })
  const [queue, company] = await Promise.all([
    found(listFindings(viewer, filter, after ?? null)),
    frameFor(viewer),
  ])
  const t = await getTranslations('findings')
  const now = new Date(company.nowMs)
  const prefs = { units: viewer.units, clock: viewer.clock }
  const when = queue.look.finishedAt
    ? formatWhen(queue.look.finishedAt, now, { ...prefs, timeZone: company.timeZone })
    : null
  const sentence = <QueueSentence queue={queue} when={when} />
  const shared = { findings: queue.findings, currency: queue.currency, prefs, now }
  return (
    <>
      <PhoneHead title={t('heading')} where={sentence} backHref="/audit" />
      <DeskPageHead
        title={t('heading')}
        sentence={sentence}
        actions={queue.lookFor && !queue.look.progress ? <LookForm siteId={queue.lookFor} /> : null}
      />
      {queue.look.progress ? (
        <LookProgress>
          {queue.look.progress.of === 0 ? t('lookWaits') : t('lookGoes', queue.look.progress)}
        </LookProgress>
      ) : null}
      <nav className="flex flex-wrap gap-x-10 gap-y-1 px-4 pb-2 desk:px-8" aria-label={t('filter')}>
        <FilterWords
          words={(['open', 'decided'] as const).map((one) => ({
            href: addressOf({ ...filter, show: one }),
            label: t(`show.${one}`),
            isCurrent: one === filter.show,
          }))}
        />
        {queue.sites.length > 1 ? (
          <FilterWords
            words={[{ id: null, shortName: t('allSites') }, ...queue.sites].map((one) => ({
              href: addressOf({ ...filter, site: one.id }),
              label: one.shortName,
              isCurrent: one.id === filter.site,
            }))}
          />
        ) : null}
      </nav>
      {queue.findings.length === 0 ? (
        <EmptyState title={t(`empty.${filter.show}`)} next={t('emptyNext')} />
      ) : (
        <>
          <FindingRows {...shared} />
          <FindingTable {...shared} />
        </>
      )}
      {queue.next ? (
        <p className="px-4 py-3 desk:px-8">
          <ButtonLink href={addressOf(filter, queue.next)}>{t(`more.${filter.show}`)}</ButtonLink>
        </p>
      ) : null}
      <p className="px-4 py-3 type-small text-ink-2 desk:px-8">{t('method')}</p>
      <ListFiles lists={['findings']} />
    </>
  )
}

/** What needs somebody first, and of when it is. */
async function QueueSentence({
  queue,
  when,
}: Readonly<{ queue: FindingQueue; when: string | null }>) {
  const t = await getTranslations('findings')
  const { leaks, count } = queue.waiting
  return (
    <>
      {leaks > 0
        ? t.rich('leaksFirst', { count: leaks, b: (words) => <b>{words}</b> })
        : t('count', { count })}{' '}
      {queue.look.isFailed ? t('lookFailed') : when ? t('lookedAt', { when }) : t('neverLooked')}
    </>
  )
}
