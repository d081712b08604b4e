import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { TurnedArrow } from '@/app/_components/marks/icons'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import {
  type ClearanceItem,
  type ClearanceView,
  getClearance,
} from '@/lib/data/permits/clearance-view'
import { formatClock, formatDayClock } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { reopenClearanceAction } from '../actions'
import { PermitFrame } from '../frame'
import { ReasonRows } from '../reason-rows'
import { clearPermitAction } from './actions'
import { AnsweredRow } from './answered-row'
import { ClearanceSide, picturesOf } from './clearance-side'
import { PhotoButton } from './photo-button'
import { StepForm } from './step-form'
import { Ticks } from './ticks'
import { WalkForm } from './walk-form'

type ClearancePageProps = Readonly<{
  params: Promise<{ permitId: string }>
  searchParams: Promise<{ item?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.clearance'))('title') }
}

export default async function ClearancePage({ params, searchParams }: ClearancePageProps) {
  const viewer = await requireViewer()
  const [{ permitId }, { item: wanted }] = await Promise.all([params, searchParams])
  const view = await found(getClearance(viewer, permitId))
  const t = await getTranslations('permit.clearance')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone }
  const openId = openItem(view, wanted)
  const counted = (
    <>
      <b className="type-phone-title block">
        {t('counted', { answered: view.answered, total: view.total })}
      </b>
      <span className="type-small text-ink-2">{t('answered')}</span>
    </>
  )
  const sentence = t('sentence', {
    number: view.head.number,
    answered: view.answered,
    total: view.total,
  })
  return (
    <PermitFrame
      head={view.head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${permitId}`}
      aside={counted}
      sentence={sentence}
    >
      <div className="flex flex-1 flex-col desk:grid desk:flex-none desk:grid-cols-[minmax(0,6fr)_minmax(0,5fr)] desk:gap-x-12 desk:px-8">
        <div className="flex flex-1 flex-col">
          <Ticks items={view.items} openId={openId} />
          <Walk view={view} openId={openId} prefs={prefs} />
        </div>
        <div className="hidden desk:block">
          <ClearanceSide view={view} />
        </div>
      </div>
    </PermitFrame>
  )
}

/** The item that an address names, else the first that waits; none where nothing may be answered now. */
function openItem(view: ClearanceView, wanted: string | undefined): string | null {
  if (!view.canAnswer) return null
  if (view.items.some((item) => item.id === wanted)) return wanted ?? null
  return view.head.state === 'preparing' ? view.next : null
}

type WalkProps = Readonly<{ view: ClearanceView; openId: string | null; prefs: FormatPrefs }>

async function Walk({ view, openId, prefs }: WalkProps) {
  const t = await getTranslations('permit.clearance')
  const c = await getTranslations('clearance.items')
  const { head, items } = view
  const row = (item: ClearanceItem) => (
    <AnsweredRow
      key={item.id}
      item={item}
      prefs={prefs}
      href={view.canAnswer ? `/permits/${head.id}/clearance?item=${item.id}` : null}
    />
  )
  const at = items.findIndex((item) => item.id === openId)
  const open = items[at]
  if (!open) {
    return (
      <>
        <ul className="plain-rows border-t border-rule">
          {items.map(row)}
          <DrawingRow view={view} />
          <GasRow view={view} prefs={prefs} />
        </ul>
        <Finish view={view} prefs={prefs} />
      </>
    )
  }
  const following =
    items.find((item, index) => index > at && !item.answer) ??
    items.find((item) => !item.answer && item.id !== openId)
  return (
    <WalkForm
      key={open.id}
      permitId={head.id}
      item={open}
      hint={open.id === 'since_last' ? <LastTimeWords view={view} prefs={prefs} /> : null}
      photos={
        <PhotoButton
          permitId={head.id}
          purpose="answer"
          about={open.id}
          what={c(`${open.id}.title`)}
          pictureIds={picturesOf(view, 'answer', open.id)}
          canAdd={view.canAnswer}
        />
      }
      nextTitle={following ? c(`${following.id}.title`) : null}
      leftWords={t.rich('left', {
        count: view.left,
        b: (words) => <b className="font-[650]">{words}</b>,
      })}
      before={<ul className="plain-rows border-t border-rule">{items.slice(0, at).map(row)}</ul>}
      after={
        <ul className="plain-rows">
          {items.slice(at + 1).map(row)}
          <DrawingRow view={view} />
          <GasRow view={view} prefs={prefs} />
        </ul>
      }
    />
  )
}

/** What somebody put into words last time: to go and see, never an answer of today. */
async function LastTimeWords({
  view,
  prefs,
}: Readonly<{ view: ClearanceView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.clearance')
  const c = await getTranslations('clearance.items')
  const { lastTime } = view
  if (!lastTime) return null
  const { number, at, found } = lastTime
  const said = { number, when: formatDayClock(at, prefs) }
  if (found.length === 0)
    return <p className="type-note mb-1 text-ink-2">{t('lastTimeNone', said)}</p>
  return (
    <div className="type-note mb-1 text-ink-2">
      <p>{t('lastTime', said)}</p>
      <ul>
        {found.map(({ item, choice, what }) => (
          <li key={item}>
            {t('titleWhat', { title: c(`${item}.title`), what })}.{' '}
            {c(`${item}.choices.${choice}` as 'stores.choices.none')}
          </li>
        ))}
      </ul>
    </div>
  )
}

async function DrawingRow({ view }: Readonly<{ view: ClearanceView }>) {
  const t = await getTranslations('permit.drawing')
  return (
    <PlainRow
      href={`/permits/${view.head.id}/drawing`}
      mark={<AnswerMark name={view.drawnMarks === null ? 'to-answer' : 'done'} />}
      title={t('row')}
      aside={view.drawnMarks === null ? t('rowNone') : t('rowKept', { count: view.drawnMarks })}
    />
  )
}

async function GasRow({ view, prefs }: Readonly<{ view: ClearanceView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.clearance')
  const aside = view.gasTestAt
    ? formatClock(view.gasTestAt, prefs)
    : t(view.isGasTestNeeded ? 'gasLast' : 'gasNotAsked')
  return (
    <PlainRow
      href={`/permits/${view.head.id}/gas-test`}
      mark={<AnswerMark name={view.gasTestAt ? 'done' : 'to-answer'} />}
      title={t('gasTest')}
      aside={aside}
    />
  )
}

async function Finish({ view, prefs }: Readonly<{ view: ClearanceView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.clearance')
  const { head } = view
  return (
    <div className="mt-auto">
      <div className="desk:hidden">
        <ClearanceSide view={view} />
      </div>
      <ReasonRows title={(count) => t('waits', { count })} reasons={view.waits} prefs={prefs} />
      {view.pace?.isTooFast && view.left === 0 && view.head.state === 'preparing' ? (
        <p className="consequence px-4 desk:px-0">
          <TurnedArrow />
          <span>
            {t('tooFast', {
              took: formatDuration(view.pace.tookS * 1000),
              least: formatDuration(view.pace.leastS * 1000),
            })}
          </span>
        </p>
      ) : null}
      {view.canClear ? (
        <StepForm
          id="clear"
          permitId={head.id}
          version={head.version}
          action={clearPermitAction}
          label={t('clear')}
          refusedTitle={t('notCleared')}
        />
      ) : null}
      {view.canReopen ? (
        <StepForm
          id="reopen"
          permitId={head.id}
          version={head.version}
          action={reopenClearanceAction}
          label={t('reopen')}
          refusedTitle={t('notReopened')}
          kind="plain"
        />
      ) : null}
    </div>
  )
}
