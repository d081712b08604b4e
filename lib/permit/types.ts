import type { Evaluation, LayerId } from '../rules/types'
import type { PermitReasonCode } from './reasons'

export const PERMIT_STATES = [
  'preparing',
  'cleared',
  'open',
  'held',
  'watch',
  'closed',
  'withdrawn',
] as const
export type PermitState = (typeof PERMIT_STATES)[number]

export const PERMIT_EVENT_KINDS = [
  'prepared',
  'cleared',
  'clearance_reopened',
  'issued',
  'held',
  'resumed',
  'work_ended',
  'expired',
  'stopped',
  'stop_withdrawn',
  'watch_on',
  'watch_off',
  'operator_on',
  'operator_off',
  'round',
  'monitored',
  'final_look',
  'statement',
  'reopened',
  'closed',
  'withdrawn',
  'watch_restarted',
  'impairment_restored',
  'surveyed',
  'note',
] as const
export type PermitEventKind = (typeof PERMIT_EVENT_KINDS)[number]

export const SIGNATURE_ACTS = [
  'agree',
  'acknowledge',
  /** The entry supervisor, that the linked entry permit stands and covers this work. */
  'enter',
  'issue',
  'resume',
  'go_back',
  'final_watch',
  'final_pai',
] as const
export type SignatureAct = (typeof SIGNATURE_ACTS)[number]

export type QualificationKind =
  | 'torch_operator'
  | 'fire_watch'
  | 'pai'
  | 'hazmat_driver'
  | 'entry_supervisor'

/** A refusal as data: `code` is a key under `permitReasons`, `params` its values (instants in ms). */
export interface Reason {
  code: PermitReasonCode
  params: Readonly<Record<string, string | number>>
  ruleId?: string
}

export type Verdict<T = Record<never, never>> =
  | ({ ok: true } & T)
  | { ok: false; reasons: readonly Reason[] }

export interface PersonFact {
  id: string
  name: string
  isActive: boolean
  /** Days are ISO dates in the site's zone, both ends included; null: no end. */
  qualifications: readonly {
    kind: QualificationKind
    validFrom: string
    validUntil: string | null
  }[]
}

export interface SignatureFact {
  act: SignatureAct
  personId: string
  signedAt: Date
}

export interface GasTestFact {
  takenAt: Date
  oxygenPct: number
  lelPct: number
  /** Null when that toxic gas was not asked for. */
  coPpm: number | null
  h2sPpm: number | null
  /** What took oxygen below that of air; null where nobody said. Absent: not asked. */
  oxygenCause?: string | null
  /** Bump-tested today and within its calibration. Absent: not asked. */
  isInstrumentInDate?: boolean
  instrument?: string
}

/** Presence of one person; `offAt` null while it lasts. */
export interface Stint {
  personId: string
  onAt: Date
  offAt: Date | null
}

export interface RoundFact {
  at: Date
  personId: string
  posts: readonly PostVisit[]
}

export interface CodedPost {
  post: string
  code: string
}

export interface PostVisit {
  post: string
  answer: 'clear' | 'warm' | 'smoke'
  /** What was read or typed at the post; only on the way in, the record keeps whether it was right. */
  code?: string | undefined
  /** Why the post's code could not be scanned. */
  unscanned?: string | undefined
  /** As recorded; absent where the post carries no code. */
  scanned?: boolean | undefined
}

/** The duties frozen when the permit was issued: plain numbers, as the permit stores them. */
export interface FrozenDuties {
  watchRequired: boolean
  /** May be 0 under a watch that lasts until a statement instead of minutes. */
  watchMin: number
  roundIntervalMin: number
  monitoringMin: number
  finalLookMin: number
  /** The longest time between two looks while monitoring; null where no text sets one. */
  monitoringCheckEveryMin: number | null
  /** What stays of the watch once a survey has found no further hazard; null where none may. */
  watchMinAfterSurvey: number | null
  /** The same for the final look. */
  finalLookMinAfterSurvey: number | null
  statementRequired: boolean
  gasTestValidMin: number
  gasTestNeeded: boolean
  gasTestContinuous: boolean
  oxygenMinPct: number
  oxygenMaxPct: number
  /** This much oxygen is already enriched; null where only `oxygenMaxPct` counts. */
  oxygenStopAtPct: number | null
  lelMaxPct: number
  /** A reading at or above this stops the work; null where only `lelMaxPct` counts. */
  lelStopAtPct: number | null
  coMaxPpm: number
  h2sMaxPpm: number
  breakLimitMin: number
  capHours: number
  paiOnSiteWithinMin: number
  resumeNeedsPai: boolean
  reinspectEveryHours: number | null
  reinspectEachShift: boolean
  gearCheckEachShift: boolean
  gasOffAfterIdleMin: number | null
  /** More wind than this holds work in the open; null where no layer has a figure. */
  windMaxMph: number | null
  /** Posts that every round visits. */
  posts: readonly string[]
  layers: readonly { id: LayerId; version: number }[]
  /** Which rule set each duty; null: the company's own number. */
  rules: {
    watch: string | null
    finalLook: string | null
    monitoring: string | null
    statement: string | null
    cap: string | null
  }
}

/** What every check of the permit's life reads. Instants are the database's. */
export interface PermitFacts {
  state: PermitState
  siteId: string
  areaId: string
  areaLabel: string
  number: string
  operatorId: string | null
  fireWatchId: string | null
  paiId: string | null
  isEnclosed: boolean
  clearedAt: Date | null
  issuedAt: Date | null
  validUntil: Date | null
  /** When the present hold began. */
  heldAt: Date | null
  /** The last time the torch went out, work outside the permit included. */
  torchOutAt: Date | null
  stopPressedAt: Date | null
  stoppedAt: Date | null
  expiredAt: Date | null
  /** The last look at the area (clearance, re-inspection) by a person on the spot. */
  lastLookAt: Date | null
  /** Every look that was ever made, oldest first; absent: not asked. */
  looksAt?: readonly Date[]
  /** The host's own permit and the entry permit, with their ends. */
  linked?: Readonly<Record<'host' | 'entry', { number: string; until: Date } | null>>
  /**
   * The operator is alone, and this client's person watches and authorises; null where operator, watch
   * and PAI are three.
   */
  lone?: Readonly<{ client: string; isAllowed: boolean; isBriefed: boolean }> | null
  /** Whether the PAI may be the fire watch: the site's word (`paiMayWatch`); absent: no. */
  isPaiWatchAllowed?: boolean
  /** Each start of a shift at the site since a day before the clearance, oldest first; absent where it keeps none. */
  shiftStartsAt?: readonly Date[]
  /** The outfit and when it was last looked at whole and found good; null without one. */
  gear?: Readonly<{ label: string; checkedAt: Date | null }> | null
  /** What is said of the weather at the site and counts here; absent indoors. */
  weather?: Readonly<{ isBanned: boolean; windMph: number | null }>
  duties: FrozenDuties | null
  signatures: readonly SignatureFact[]
  /** Acts that were signed for something that has changed since; such a signature is not among the others. */
  voidedActs?: readonly SignatureAct[]
  gasTests: readonly GasTestFact[]
  watchStints: readonly Stint[]
  operatorStints: readonly Stint[]
  rounds: readonly RoundFact[]
  /** Posts that carry a code, frozen when the permit was issued; absent: none. */
  codedPosts?: readonly CodedPost[]
  /** Spans in which work was allowed; `to` null while open. */
  openSpans: readonly { from: Date; to: Date | null }[]
  impairments: readonly { id: string; label: string; restoredAt: Date | null }[]
  monitoredAt: Date | null
  /** Every look made while monitoring; the last of them is `monitoredAt`. */
  monitoringChecksAt: readonly Date[]
  /** When a survey after the work found no further fire hazard; absent where none was recorded. */
  surveyedAt?: Date | null
  finalLookAt: Date | null
  statementAt: Date | null
}

export interface Issuing {
  /** Who issues: signs last, in this very act. */
  paiId: string
  evaluation: Evaluation
  duties: FrozenDuties
  /** Who answered "judgement" about the watch, and what; null while unanswered. */
  watchJudgement: 'yes' | 'no' | null
  outfit: { id: string; label: string; isInService: boolean } | null
  people: readonly PersonFact[]
  /** What these people are already doing elsewhere at this moment. */
  busy: readonly { personId: string; role: 'operator' | 'fire_watch'; areaLabel: string }[]
  paiArrivedAt: Date | null
  /** Today in the site's zone, ISO date. */
  day: string
  validUntil: Date
}

export interface WatchInput {
  torchOutAt: Date
  watchMin: number
  roundIntervalMin: number
  presence: readonly { from: Date; to: Date | null }[]
  roundsAt: readonly Date[]
  now: Date
}

export interface WatchRound {
  dueAt: Date
  at: Date
  lateMs: number
  addedMs: number
  restarted: boolean
}

export interface WatchProgress {
  anchorAt: Date
  creditMs: number
  remainingMs: number
  /** When it ends if someone watches without a break and every round is on time. */
  endsAtIfWatched: Date | null
  nextDueAt: Date | null
  nextOpensAt: Date | null
  rounds: readonly WatchRound[]
  addedMs: number
  /** Since when nobody has been watching; null while someone is. */
  pausedSince: Date | null
  restarts: number
  done: boolean
  /** The instant credit reached the minutes; null until then. */
  doneAt: Date | null
}
