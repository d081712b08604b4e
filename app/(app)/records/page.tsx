import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { Column, DataTable } from '@/app/_components/data-table'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { Status } from '@/app/_components/marks/status-mark'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import type { Viewer } from '@/lib/access/viewer'
import { requireViewer } from '@/lib/auth/viewer'
import {
  listRecords,
  type RecordList,
  type RecordRow,
  type SiteVerdict,
} from '@/lib/data/records/list'
import { formatDayClock } from '@/lib/format/clock'
import { formatNumber } from '@/lib/format/numbers'
import { type RecordFilter, recordFilterSchema } from '@/lib/schemas/record'
import { FilterForm } from './filter-form'

type RecordsPageProps = Readonly<{ searchParams: Promise<Record<string, string | undefined>> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('record.list'))('title') }
}

const statusOf = (row: RecordRow) => (row.isStopped ? 'stopped' : row.state)

function olderHref(filter: RecordFilter, after: string): string {
  const query = new URLSearchParams({ state: filter.state, after })
  for (const name of ['site', 'from', 'to'] as const)
    if (filter[name]) query.set(name, filter[name])
  return `/records?${query}`
}

export default async function RecordsPage({ searchParams }: RecordsPageProps) {
  const viewer = await requireViewer()
  const { site, state, from, to, after } = await searchParams
  const filter = recordFilterSchema.parse({
    site: site || null,
    state,
    from: from || null,
    to: to || null,
    after: after ?? null,
  })
  const list = await found(listRecords(viewer, filter))
  const t = await getTranslations('record.list')
  return (
    <>
      <PhoneHead title={t('title')} where={t('sentence')} backHref="/today" />
      <DeskPageHead title={t('title')} sentence={t('sentence')} />
      <FilterForm filter={filter} sites={list.sites} />
      <div className="desk:grid desk:grid-cols-[minmax(0,1fr)_304px] desk:gap-12 desk:px-8 desk:pb-8">
        <div>
          {list.rows.length === 0 ? (
            <EmptyState
              title={t('empty')}
              next={t('emptyNext')}
              action={<ButtonLink href="/permits">{t('toPermits')}</ButtonLink>}
            />
          ) : null}
          {list.rows.length > 0 ? <Rows list={list} viewer={viewer} /> : null}
          {list.next ? (
            <p className="px-4 py-3 desk:px-0">
              <ButtonLink href={olderHref(filter, list.next)}>{t('older')}</ButtonLink>
            </p>
          ) : null}
        </div>
        <Chains verdicts={list.verdicts} viewer={viewer} />
      </div>
      <ListFiles
        lists={['permits', 'jobs', 'estimates']}
        {...(filter.site ? { query: { site: filter.site } } : {})}
      />
    </>
  )
}

async function Rows({ list, viewer }: Readonly<{ list: RecordList; viewer: Viewer }>) {
  const t = await getTranslations('record.list')
  const when = (at: Date, zone: string) =>
    formatDayClock(at, { clock: viewer.clock, timeZone: zone })
  return (
    <>
      <ul className="plain-rows border-t border-rule desk:hidden">
        {list.rows.map((row) => (
          <li key={row.id} className="relative border-b border-rule px-4 py-2">
            <p className="flex justify-between gap-3">
              <Status status={statusOf(row)} />
              <span className="type-small text-ink-2">{when(row.endedAt, row.zone)}</span>
            </p>
            <p>
              <Link
                className="text-ink after:absolute after:inset-0"
                href={`/permits/${row.id}/record`}
              >
                <span className="type-ident">{row.number}</span> {row.areaName}
              </Link>
            </p>
            <p className="type-small text-ink-2">
              {row.siteName}. {row.what}
            </p>
          </li>
        ))}
      </ul>
      <div className="hidden desk:block">
        <DataTable
          caption={t('caption')}
          head={
            <>
              <Column>{t('state')}</Column>
              <Column>{t('permit')}</Column>
              <Column>{t('where')}</Column>
              <Column>{t('work')}</Column>
              <Column>{t('cutting')}</Column>
              <Column>{t('issued')}</Column>
              <Column>{t('ended')}</Column>
            </>
          }
        >
          <tbody>
            {list.rows.map((row) => (
              <tr key={row.id}>
                <td>
                  <Status status={statusOf(row)} size="desk" />
                </td>
                <td>
                  <Link
                    className="type-ident whitespace-nowrap text-ink underline decoration-cobalt underline-offset-4"
                    href={`/permits/${row.id}/record`}
                  >
                    {row.number}
                  </Link>
                </td>
                <td>
                  {row.areaName}, {row.siteName}
                </td>
                <td>{row.what}</td>
                <td className="whitespace-nowrap">{row.operatorName}</td>
                <td className="whitespace-nowrap">
                  {row.issuedAt ? when(row.issuedAt, row.zone) : t('notIssued')}
                </td>
                <td className="whitespace-nowrap">{when(row.endedAt, row.zone)}</td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </div>
    </>
  )
}

async function Chains({
  verdicts,
  viewer,
}: Readonly<{ verdicts: readonly SiteVerdict[]; viewer: Viewer }>) {
  const t = await getTranslations('record.list')
  return (
    <section className="px-4 py-6 desk:px-0 desk:py-0">
      <h2 className="border-b-2 border-ink pb-1 text-[13px] leading-[18px] font-[600] text-ink-2">
        {t('chains')}
      </h2>
      <ul className="type-desk">
        {verdicts.map((one) => (
          <li key={one.chain} className="flex gap-2 border-b border-rule py-1.5">
            <span className={`pt-0.5 ${one.ok ? '' : 'text-heat'}`}>
              <AnswerMark
                name={one.checkedAt === null ? 'to-answer' : one.ok ? 'done' : 'refused'}
              />
            </span>
            <span>
              <b className="block font-[600]">{one.siteName ?? t('company')}</b>
              {one.checkedAt === null ? (
                <span className="text-ink-2">{t('notChecked')}</span>
              ) : (
                <span className={one.ok ? 'text-ink-2' : 'font-[600] text-heat'}>
                  {one.ok
                    ? t('ok', { last: formatNumber(one.lastSeq) })
                    : t('bad', { seq: one.firstBadSeq ?? 0 })}
                  ,{' '}
                  {t('checkedAt', {
                    time: formatDayClock(one.checkedAt, {
                      clock: viewer.clock,
                      timeZone: one.zone,
                    }),
                  })}
                </span>
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
