'use client'

import { useTranslations } from 'next-intl'
import { StandingWatch } from '@/app/_components/bar/standing-watch'
import { usePrefs } from '@/app/_components/live/prefs'
import { AnswerMark, type AnswerMarkName } from '@/app/_components/marks/answer-mark'
import type { RoundMade } from '@/lib/data/watch/view'
import { formatClock, formatClockRange } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { useWatch } from './use-watch'
import type { RoundSlot } from './watch-slots'

const MINUTE_MS = 60_000
const PX_PER_MIN = 6.4
const LEAST_STEP_PX = 44
const LINE_PX = 22

type Watch = ReturnType<typeof useWatch>
type LadderProps = Readonly<{ watch: Watch; posts: readonly string[]; stepMin: number }>

/** The watch as a standing bar, and beside it the ordered list of its rounds that says the same. */
export function WatchLadder({ watch, posts, stepMin }: LadderProps) {
  const { anchorMs, endMs, nowMs, addedMs, slots, progress } = watch
  const perMin = Math.max(PX_PER_MIN, LEAST_STEP_PX / Math.max(1, stepMin))
  const heightPx = Math.max(160, ((endMs - anchorMs) / MINUTE_MS) * perMin)
  const y = (ms: number) => ((ms - anchorMs) / (endMs - anchorMs)) * heightPx
  const lastY = slots.length > 0 ? y(slots.at(-1)?.dueMs ?? anchorMs) : 0
  return (
    <div
      className="relative mx-4 mt-2 mb-9 desk:mx-8 desk:max-w-[420px]"
      style={{ height: heightPx + 4 }}
    >
      <div className="absolute top-0 left-[62px]">
        <StandingWatch
          startMs={anchorMs}
          endMs={endMs}
          nowMs={nowMs}
          roundsMs={slots.map((slot) => slot.dueMs)}
          heightPx={heightPx}
          isPaused={progress.pausedSince !== null && !progress.done}
          {...(addedMs >= MINUTE_MS / 2 && !watch.isLost ? { addedFromMs: endMs - addedMs } : {})}
        />
      </div>
      <NowLabel
        watch={watch}
        y={y(nowMs)}
        isShown={
          !progress.done &&
          slots.every((slot) => Math.abs(y(slot.dueMs) - y(nowMs)) >= 17) &&
          y(nowMs) > 17
        }
      />
      <ol>
        <FirstRow watch={watch} />
        {slots.map((slot) => (
          <RoundRow key={slot.dueMs} slot={slot} watch={watch} y={y(slot.dueMs)} posts={posts} />
        ))}
        <LastRow watch={watch} floorY={heightPx} y={Math.max(heightPx, lastY + LINE_PX + 2)} />
      </ol>
    </div>
  )
}

const Clock = ({ ms, isPast }: Readonly<{ ms: number; isPast: boolean }>) => {
  const prefs = usePrefs()
  return (
    <span
      className={`absolute top-0 left-0 w-[44px] text-right text-[16px] ${isPast ? 'text-ink-2' : 'font-[600]'}`}
    >
      {formatClock(ms, prefs)}
    </span>
  )
}

const ROW = 'absolute left-0 right-0 leading-[22px]'

function NowLabel({ y, isShown }: Readonly<{ watch: Watch; y: number; isShown: boolean }>) {
  const t = useTranslations('kit.axis')
  if (!isShown) return null
  return (
    <span
      className="absolute left-0 w-[44px] text-right text-[16px] leading-[22px] font-[600] text-heat"
      style={{ top: y - 11 }}
      aria-hidden="true"
    >
      {t('now')}
    </span>
  )
}

function FirstRow({ watch }: Readonly<{ watch: Watch }>) {
  const t = useTranslations('watch')
  return (
    <li className={ROW} style={{ top: -11 }}>
      <Clock ms={watch.anchorMs} isPast />
      <span className="type-row-title absolute left-[150px]">
        {t(watch.progress.restarts > 0 ? 'startedOver' : 'torchOut')}
      </span>
    </li>
  )
}

function LastRow({ watch, y, floorY }: Readonly<{ watch: Watch; y: number; floorY: number }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  const added = Math.round(watch.addedMs / MINUTE_MS)
  const ranges = watch.gaps.map((gap) => formatClockRange(gap.fromMs, gap.toMs, prefs)).join(', ')
  return (
    <li className={ROW} style={{ top: y - 11 }}>
      <span className="absolute left-0 w-full" style={{ top: floorY - y }}>
        <Clock ms={watch.endMs} isPast={watch.progress.done} />
      </span>
      <span className="type-row-title absolute left-[150px]">{t('finalLook')}</span>
      {watch.isLost ? (
        <span className="absolute top-[22px] right-0 text-right text-[15px] leading-5 font-[600] text-heat">
          {t('lost')}
        </span>
      ) : added > 0 ? (
        <span className="absolute top-[22px] right-0 text-right text-[15px] leading-5 font-[600] text-heat">
          {ranges
            ? t('addedGap', { minutes: added, ranges, count: watch.gaps.length })
            : t('addedNobody', { minutes: added })}
        </span>
      ) : null}
    </li>
  )
}

function worstOf(made: RoundMade): 'clear' | 'warm' | 'smoke' {
  const answers = made.posts.map((post) => post.answer)
  return answers.includes('smoke') ? 'smoke' : answers.includes('warm') ? 'warm' : 'clear'
}

function markOf(slot: RoundSlot): AnswerMarkName {
  if (slot.atMs === null) return slot.lateMs > 0 ? 'late' : 'due'
  if (slot.lateMs >= 1000) return 'late'
  return slot.made && worstOf(slot.made) !== 'clear' ? 'warm' : 'done'
}

type RowProps = Readonly<{ slot: RoundSlot; watch: Watch; y: number; posts: readonly string[] }>

function RoundRow({ slot, watch, y, posts }: RowProps) {
  const t = useTranslations('watch')
  const isNext = watch.next === slot
  const isPast = slot.atMs !== null
  const isLate = slot.lateMs >= 1000
  const inMin = Math.ceil((slot.dueMs - watch.nowMs) / MINUTE_MS)
  return (
    <li className={ROW} style={{ top: y - 11 }}>
      <Clock ms={slot.dueMs} isPast={isPast} />
      <span className={`absolute top-[3px] left-[126px] ${isLate ? 'text-heat' : ''}`}>
        <AnswerMark name={markOf(slot)} />
      </span>
      <span className="absolute right-0 left-[150px]">
        <span className="flex flex-wrap justify-between gap-x-2">
          <span className="type-row-title">{t('round', { number: slot.number })}</span>
          {isPast && !isLate ? (
            <span className="text-[15px] text-ink-2">
              <MadeWords slot={slot} />
            </span>
          ) : null}
          {isNext && !isLate ? (
            <span className="text-[16px] font-[600]">
              {inMin > 0 ? t('inMin', { minutes: inMin }) : t('due')}
            </span>
          ) : null}
        </span>
        {isLate ? (
          <span className="block text-[15px] leading-5 font-[600] text-heat">
            {isPast ? (
              <MadeWords slot={slot} />
            ) : (
              t('lateBy', { late: formatDuration(slot.lateMs) })
            )}
          </span>
        ) : null}
        {isNext && !isLate ? (
          <span className="block text-[15px] leading-[19px] text-ink-2">{posts.join(', ')}</span>
        ) : null}
      </span>
    </li>
  )
}

function MadeWords({ slot }: Readonly<{ slot: RoundSlot }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  if (slot.atMs === null) return null
  const last = slot.again.at(-1) ?? slot.made
  const said = last ? countWords(t, last) : ''
  const time = formatClock(last?.atMs ?? slot.atMs, prefs)
  return slot.lateMs >= 1000
    ? t('madeLate', { said, time, late: formatDuration(slot.lateMs) })
    : t('made', { said, time })
}

/** "3 clear", or "1 warm, 2 clear". */
function countWords(t: ReturnType<typeof useTranslations<'watch'>>, made: RoundMade): string {
  return (['smoke', 'warm', 'clear'] as const)
    .map((answer) => ({
      answer,
      count: made.posts.filter((post) => post.answer === answer).length,
    }))
    .filter(({ count }) => count > 0)
    .map(({ answer, count }) => t(`counted.${answer}`, { count }))
    .join(', ')
}
