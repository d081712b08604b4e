import { type Say, sayReason } from '@/app/_components/form/reason-words'
import type { AnswerMarkName } from '@/app/_components/marks/answer-mark'
import type { PermitStatus } from '@/app/_components/marks/status-mark'
import type { RecordEntry } from '@/lib/data/records/entries'
import { formatClock, formatDayClock } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'

type Words = ReturnType<typeof import('next-intl')['useTranslations']>

export type EntryMark = Readonly<{ status: PermitStatus } | { answer: AnswerMarkName } | null>

const STATUS_OF: Readonly<Record<string, PermitStatus>> = {
  event_prepared: 'preparing',
  event_cleared: 'cleared',
  event_issued: 'open',
  event_resumed: 'open',
  event_reopened: 'open',
  event_held: 'held',
  event_work_ended: 'watch',
  event_expired: 'watch',
  event_watch_restarted: 'watch',
  event_monitored: 'monitored',
  event_stopped: 'stopped',
  event_closed: 'closed',
  event_withdrawn: 'withdrawn',
}

/** The mark before an entry: the state it led to, else what kind of answer it is. */
export function markOf(entry: RecordEntry): EntryMark {
  const status = STATUS_OF[entry.what]
  if (status) return { status }
  if (entry.what === 'refused') return { answer: 'refused' }
  if (entry.corrects) return { answer: 'protected' }
  if (entry.what === 'rounds' && Number(entry.params.lateMs) >= 1000) return { answer: 'late' }
  if (entry.what === 'rounds' && Number(entry.params.warm) > 0) return { answer: 'warm' }
  return { answer: 'done' }
}

const clockOf = (value: unknown, prefs: FormatPrefs) =>
  typeof value === 'number' && value > 0 ? formatClock(value, prefs) : ''

type Scene = Readonly<{ t: Words; all: Say; prefs: FormatPrefs }>
type Detail = (entry: RecordEntry, scene: Scene) => readonly (string | null)[]

const words = (t: Words, key: string, params: Record<string, string | number> = {}) =>
  t(key as never, params as never)

const ofRound: Detail = ({ params }, { t, prefs }) => [
  words(t, 'details.round', {
    clear: params.clear ?? 0,
    warm: params.warm ?? 0,
    smoke: params.smoke ?? 0,
    unscanned: params.unscanned ?? '',
    isProven: params.isProven ?? 'yes',
  }),
  Number(params.lateMs) >= 1000
    ? words(t, 'details.roundLate', {
        late: formatDuration(Number(params.lateMs)),
        time: clockOf(params.dueAt, prefs),
      })
    : null,
]

const ofLog: Detail = ({ params, isLate }, { t, prefs }) => [
  words(t, 'details.log', {
    pieces: params.pieces ?? 0,
    from: clockOf(params.fromAt, prefs),
    to: clockOf(params.toAt, prefs),
  }),
  isLate ? words(t, 'details.late') : null,
  String(params.note ?? ''),
]

const ofGasTest: Detail = ({ params }, { t }) => [
  words(t, 'details.gas', { oxygen: params.oxygen ?? 0, lel: params.lel ?? 0 }),
  Number(params.co) >= 0 ? words(t, 'details.co', { value: params.co ?? 0 }) : null,
  Number(params.h2s) >= 0 ? words(t, 'details.h2s', { value: params.h2s ?? 0 }) : null,
]

const ofAnswer: Detail = ({ params }, { all }) => {
  const place = `clearance.items.${params.item}`
  const said = (key: string) => (all.has(key as never) ? all(key as never) : null)
  return [
    said(`${place}.title`),
    said(`${place}.choices.${params.choice}`),
    String(params.note ?? ''),
  ]
}

const ofEvent: Detail = ({ what, params }, { t, prefs }) => [
  what === 'event_issued'
    ? words(t, 'details.issued', {
        time: params.validAt ? formatDayClock(Number(params.validAt), prefs) : '',
      })
    : null,
  params.stop === 'yes' ? words(t, 'details.stopPressed') : null,
  params.because ? words(t, 'details.because', { because: params.because }) : null,
  what.startsWith('event_watch_o') || what.startsWith('event_operator_')
    ? String(params.subject ?? '')
    : null,
  Number(params.tookS) >= 0
    ? words(t, 'details.tooFast', {
        took: formatDuration(Number(params.tookS) * 1000),
        least: formatDuration(Number(params.leastS) * 1000),
      })
    : null,
  Number(params.owedMin) >= 0 ? words(t, 'details.owed', { minutes: params.owedMin ?? 0 }) : null,
  t.has(`details.why.${params.reason}` as never)
    ? words(t, `details.why.${params.reason}`)
    : String(params.reason ?? ''),
  String(params.note ?? ''),
  String(params.impairment ?? ''),
]

const DETAIL_OF: Readonly<Record<string, Detail>> = {
  rounds: ofRound,
  log: ofLog,
  log_correction: ofLog,
  gas_tests: ofGasTest,
  clearance_answers: ofAnswer,
  area_drawings: ({ params }, { t }) => [
    words(t, 'details.drawing', { sheets: params.sheets ?? 0, marks: params.marks ?? 0 }),
  ],
  pictures: ({ params }, { t }) => [
    words(t, 'details.picture', {
      purpose: params.purpose ?? '',
      kb: params.kb ?? 0,
      hash: params.hash ?? '',
    }),
    String(params.note ?? ''),
  ],
  paper_entries: ({ params }, { t, prefs }) => [
    words(t, 'details.paper', {
      kind: params.kind ?? 'other',
      time: params.writtenAt ? formatDayClock(Number(params.writtenAt), prefs) : '',
      name: params.by ?? '',
    }),
    String(params.note ?? ''),
  ],
  work_outside_permit: ({ params }, { t, prefs }) => [
    words(t, 'details.outside', {
      from: clockOf(params.fromAt, prefs),
      to: clockOf(params.toAt, prefs),
      note: params.note ?? '',
    }),
  ],
  refused: ({ reasons }, { all, prefs }) =>
    reasons.map((reason) => sayReason(all, prefs, reason).what),
}

/** What an entry says beyond its name, in one line. */
export function detailOf(entry: RecordEntry, scene: Scene): string {
  const detail = entry.what.startsWith('signature_')
    ? [words(scene.t, 'details.signed')]
    : (DETAIL_OF[entry.what] ?? ofEvent)(entry, scene)
  return detail.filter((part): part is string => Boolean(part)).join('. ')
}

const SAME_WITHIN_MS = 1_500
const SMALL_MS = 90_000

/** The device's clock beside the server's: "same", "+2 s", or its own time where it was far off. */
export function deviceClock(
  entry: RecordEntry,
  { t, prefs }: Pick<Scene, 't' | 'prefs'>,
): Readonly<{ words: string; isOff: boolean }> {
  if (!entry.deviceAt) return { words: words(t, 'notSaid'), isOff: false }
  const offMs = entry.deviceAt.getTime() - entry.at.getTime()
  if (Math.abs(offMs) <= SAME_WITHIN_MS) return { words: words(t, 'same'), isOff: false }
  if (Math.abs(offMs) < SMALL_MS)
    return {
      words: `${offMs > 0 ? '+' : '\u2212'}${Math.round(Math.abs(offMs) / 1000)} s`,
      isOff: false,
    }
  return { words: formatClock(entry.deviceAt, prefs), isOff: true }
}
