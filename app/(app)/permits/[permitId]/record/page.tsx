import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { found } from '@/app/_components/found'
import { Status } from '@/app/_components/marks/status-mark'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { getRecord, type PermitRecord } from '@/lib/data/records/record'
import { formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { statusOf } from '../../permit-status'
import { PermitFrame } from '../frame'
import { EntriesTable, EntryRows } from './entries-table'
import { FourInstants } from './four-instants'
import { LifeBand } from './life-band'
import { PrintButton } from './print-button'
import { Proof, RulesThen } from './proof'

type RecordPageProps = Readonly<{
  params: Promise<{ permitId: string }>
  searchParams: Promise<{ all?: string; after?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('record'))('metaTitle') }
}

const isRunning = (record: PermitRecord) =>
  record.head.state !== 'closed' && record.head.state !== 'withdrawn'

export default async function RecordPage({ params, searchParams }: RecordPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const { all, after } = await searchParams
  const isAll = all === '1'
  const record = await found(
    getRecord(viewer, {
      permitId,
      isAll,
      after: Math.max(0, Number.parseInt(after ?? '0', 10) || 0),
    }),
  )
  const t = await getTranslations('record')
  const { head, endedAt } = record
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title', { number: head.number })}
      backHref={isRunning(record) ? `/permits/${head.id}` : `/records?site=${head.siteId}`}
      aside={<Status status={statusOf(head)} />}
      sentence={`${endedAt ? `${formatDayClock(endedAt, prefs)}. ` : ''}${head.what}`}
      actions={<PrintButton>{t('print')}</PrintButton>}
    >
      <div className="px-4 pt-2 desk:px-8">
        <LifeBand record={record} prefs={prefs} />
      </div>
      <div className="desk:grid desk:grid-cols-[minmax(0,1fr)_304px] desk:gap-12 desk:px-8 desk:pb-8">
        <div>
          {record.entries.length === 0 ? <EmptyState title={t('empty')} next={head.what} /> : null}
          <div className="desk:hidden print:hidden">
            <EntryRows entries={record.entries} prefs={prefs} />
          </div>
          <div className="hidden desk:block print:block">
            <EntriesTable entries={record.entries} prefs={prefs} />
          </div>
          <More record={record} isAll={isAll} />
        </div>
        <Side record={record} prefs={prefs} />
      </div>
    </PermitFrame>
  )
}

async function More({ record, isAll }: Readonly<{ record: PermitRecord; isAll: boolean }>) {
  const t = await getTranslations('record')
  const base = `/permits/${record.head.id}/record`
  return (
    <div className="flex flex-wrap items-center gap-x-6 gap-y-2 px-4 py-3 text-[14px] text-ink-2 desk:px-0 print:hidden">
      <span>{t('shown', { shown: record.entries.length, total: record.total })}</span>
      <a className="text-link" href={`/api/permits/${record.head.id}/record`} download>
        {t('file')}
      </a>
      {record.head.state === 'withdrawn' ? null : (
        <a className="text-link" href={`/permits/${record.head.id}/paper`}>
          {t('fromPaper')}
        </a>
      )}
      <a className="text-link" href={isAll ? base : `${base}?all=1`}>
        {t(isAll ? 'showLess' : 'showAll')}
      </a>
      {record.next !== null ? (
        <ButtonLink href={`${base}?after=${record.next}${isAll ? '&all=1' : ''}`}>
          {t('more')}
        </ButtonLink>
      ) : null}
    </div>
  )
}

async function Side({ record, prefs }: Readonly<{ record: PermitRecord; prefs: FormatPrefs }>) {
  const t = await getTranslations('record.proof')
  return (
    <div className="grid content-start gap-6 px-4 pt-2 pb-8 desk:px-0">
      <FourInstants instants={record.instants} prefs={prefs} />
      <Proof record={record} prefs={prefs} />
      <RulesThen record={record} />
      <p className="type-desk-note text-ink-2">{t('caution')}</p>
    </div>
  )
}
