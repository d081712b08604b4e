import { useTranslations } from 'next-intl'
import { Timeline, type TimelineEvent, type TimelineLabel } from '@/app/_components/charts/timeline'
import type { TimelineBand } from '@/app/_components/charts/timeline-geometry'
import type { PermitRecord } from '@/lib/data/records/record'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'

const MINUTE_MS = 60_000

/** The spans as the kit draws them; minutes that were added stand apart at the end of the watch. */
function bandsOf({ timeline, addedMs, watchDoneAt }: PermitRecord): TimelineBand[] {
  return timeline.spans.flatMap((span): TimelineBand[] => {
    const { pattern } = span
    if (pattern === 'closed' || pattern === 'withdrawn') return []
    const band = { kind: pattern, fromMs: span.from.getTime(), toMs: span.to.getTime() }
    const isLastWatch =
      pattern === 'watch' && watchDoneAt !== null && span.to.getTime() === watchDoneAt.getTime()
    const cutMs = band.toMs - addedMs
    if (!isLastWatch || addedMs < MINUTE_MS || cutMs <= band.fromMs) return [band]
    return [
      { ...band, toMs: cutMs },
      { kind: 'added', fromMs: cutMs, toMs: band.toMs },
    ]
  })
}

function eventsOf({ timeline }: PermitRecord): TimelineEvent[] {
  return [
    ...timeline.cuts.map((cut): TimelineEvent => ({ kind: 'cut', atMs: cut.to.getTime() })),
    ...timeline.rounds.map(
      (round): TimelineEvent => ({
        kind: round.lateMs >= 1000 ? 'late-round' : 'round',
        atMs: round.at.getTime(),
      }),
    ),
  ]
}

const NAMED = {
  preparing: 'bandPreparing',
  cleared: 'bandCleared',
  open: 'bandOpen',
  held: 'bandHeld',
  watch: 'bandWatch',
  monitored: 'bandMonitored',
  closed: 'bandClosed',
  withdrawn: 'bandWithdrawn',
} as const

/** The permit's whole life as one band on the clock. */
export function LifeBand({
  record,
  prefs,
}: Readonly<{ record: PermitRecord; prefs: FormatPrefs }>) {
  const t = useTranslations('record')
  const { timeline, addedMs, watchDoneAt, endedAt } = record
  if (timeline.spans.length === 0) return null
  const labels: TimelineLabel[] = timeline.spans.map((span) => ({
    atMs: span.from.getTime(),
    text: t(NAMED[span.pattern], { time: formatClock(span.from, prefs) }),
  }))
  const extra: TimelineLabel[] = [
    ...(timeline.stoppedAt
      ? [
          {
            atMs: timeline.stoppedAt.getTime(),
            text: t('bandStopped', { time: formatClock(timeline.stoppedAt, prefs) }),
            isTrouble: true,
          },
        ]
      : []),
    ...(addedMs >= MINUTE_MS && watchDoneAt
      ? [
          {
            atMs: watchDoneAt.getTime() - addedMs,
            text: t('added', { minutes: Math.round(addedMs / MINUTE_MS) }),
            isTrouble: true,
          },
        ]
      : []),
  ]
  return (
    <Timeline
      bands={bandsOf(record)}
      events={eventsOf(record)}
      labels={[...labels, ...extra].toSorted((a, b) => a.atMs - b.atMs)}
      {...(endedAt ? { endMs: endedAt.getTime() } : {})}
    />
  )
}
