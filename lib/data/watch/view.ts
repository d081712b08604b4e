import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { Reason } from '@/lib/errors'
import {
  dutiesOwed,
  finalLookFrom,
  mayClose,
  minutesOwed,
  monitoringEndsAt,
  postsNotClear,
  surveyMayShorten,
} from '@/lib/permit/after-work'
import { isPresenceProven, postCodeMark } from '@/lib/permit/post-codes'
import { type PermitContext, personName, readPermitContext } from '../permits/context'
import { type PermitHead, toHead } from '../permits/head'

/** What the watch is counted from; the screen counts on with the server's clock. Milliseconds. */
export type WatchFacts = Readonly<{
  torchOutMs: number
  watchMin: number
  roundIntervalMin: number
  presence: readonly Readonly<{ fromMs: number; toMs: number | null }>[]
  roundsMs: readonly number[]
}>

export type RoundMade = Readonly<{
  atMs: number
  by: string
  posts: readonly Readonly<{ post: string; answer: string }>[]
  /** Posts that carry a code which was not scanned; with any, the round proves nobody's presence. */
  unscanned: readonly string[]
}>

export type WatchView = Readonly<{
  head: PermitHead
  now: Date
  day: string
  emergencyWords: string
  facts: WatchFacts
  rounds: readonly RoundMade[]
  posts: readonly string[]
  /** Of each post that carries a code, by what a phone knows it; the code itself hangs at the post. */
  codeMarks: Readonly<Record<string, number>>
  watchRule: string | null
  watchers: readonly Readonly<{ id: string; name: string }>[]
  isViewerOn: boolean
  notClear: readonly Readonly<{ post: string; answer: string; lookAgainBy: Date }>[]
  validUntil: Date | null
  monitoring: Readonly<{ minutes: number; until: Date | null; doneAt: Date | null }>
  finalLook: Readonly<{ minutes: number; from: Date | null; doneAt: Date | null }>
  statement: Readonly<{ isRequired: boolean; doneAt: Date | null }>
  /** Where a recorded survey may end a part of the watch: what it leaves; null where none may. */
  survey: Readonly<{ leavesMin: number; doneAt: Date | null }> | null
  impairments: readonly Readonly<{ id: string; label: string; restoredAt: Date | null }>[]
  /** Everything still owed before it may close, signatures aside. */
  owed: readonly Reason[]
  /** The same with the signatures that are missing. */
  closing: readonly Reason[]
  signedOff: Readonly<{ name: string; at: Date }> | null
  /** Who may sign which part at the end. */
  stoodWatch: readonly Readonly<{ id: string; name: string }>[]
  can: Readonly<Record<'round' | 'watch' | 'close' | 'sign' | 'resume', boolean>>
}>

const LOOK_AGAIN_MS = 5 * 60_000

/** When each post that is not clear was last answered, and when it is to be looked at again. */
function notClearOf({ facts }: PermitContext): WatchView['notClear'] {
  return postsNotClear(facts).map(({ post, answer }) => {
    const last = facts.rounds.findLast((round) => round.posts.some((one) => one.post === post))
    return { post, answer, lookAgainBy: new Date((last?.at.getTime() ?? 0) + LOOK_AGAIN_MS) }
  })
}

function factsOf({ facts, duties, now }: PermitContext): WatchFacts {
  return {
    torchOutMs: (facts.torchOutAt ?? now).getTime(),
    watchMin: minutesOwed(facts).watchMin,
    roundIntervalMin: duties.roundIntervalMin,
    presence: facts.watchStints.map(({ onAt, offAt }) => ({
      fromMs: onAt.getTime(),
      toMs: offAt?.getTime() ?? null,
    })),
    roundsMs: facts.rounds.filter(isPresenceProven).map((round) => round.at.getTime()),
  }
}

function dutiesOf(
  context: PermitContext,
): Pick<WatchView, 'monitoring' | 'finalLook' | 'statement' | 'survey' | 'impairments'> {
  const { facts, duties, watch } = context
  const { surveyedAt = null, torchOutAt } = facts
  const isSurveyed = surveyedAt !== null && torchOutAt !== null && surveyedAt >= torchOutAt
  return {
    survey: surveyMayShorten(facts)
      ? { leavesMin: duties.watchMinAfterSurvey ?? 0, doneAt: isSurveyed ? surveyedAt : null }
      : null,
    monitoring: {
      minutes: duties.monitoringMin,
      until: watch ? monitoringEndsAt(facts, watch) : null,
      doneAt: facts.monitoredAt,
    },
    finalLook: {
      minutes: minutesOwed(facts).finalLookMin,
      from: watch ? finalLookFrom(facts, watch) : null,
      doneAt: facts.finalLookAt,
    },
    statement: { isRequired: duties.statementRequired, doneAt: facts.statementAt },
    impairments: facts.impairments.map(({ id, label, restoredAt }) => ({ id, label, restoredAt })),
  }
}

function signedOffOf(context: PermitContext): WatchView['signedOff'] {
  const lookedMs = context.facts.finalLookAt?.getTime() ?? Infinity
  const signed = context.facts.signatures.findLast(
    (one) => one.act === 'final_watch' && one.signedAt.getTime() >= lookedMs,
  )
  return signed ? { name: personName(context, signed.personId), at: signed.signedAt } : null
}

const unique = (ids: readonly string[]) => [...new Set(ids)]

/** The watch of a held permit or of one whose work has ended, with everything that is owed after work. */
export async function getWatch(viewer: Viewer, permitId: string): Promise<WatchView> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, now, duties, bundle } = context
  const named = (ids: readonly string[]) =>
    unique(ids).map((id) => ({ id, name: personName(context, id) }))
  const on = facts.watchStints
    .filter((stint) => stint.offAt === null)
    .map((stint) => stint.personId)
  const closing = mayClose(facts, now)
  return {
    head: toHead(context),
    now,
    day: context.day,
    emergencyWords: bundle.site.emergency_words,
    facts: factsOf(context),
    rounds: facts.rounds.map((round) => ({
      atMs: round.at.getTime(),
      by: personName(context, round.personId),
      posts: round.posts,
      unscanned: round.posts.filter((one) => one.scanned === false).map(({ post }) => post),
    })),
    posts: duties.posts,
    codeMarks: Object.fromEntries(
      (facts.codedPosts ?? []).map(({ post, code }) => [post, postCodeMark(permitId, code)]),
    ),
    watchRule: duties.rules.watch,
    watchers: named(on),
    isViewerOn: on.includes(viewer.personId),
    notClear: notClearOf(context),
    validUntil: facts.validUntil,
    ...dutiesOf(context),
    owed: dutiesOwed(facts, now),
    closing: closing.ok ? [] : closing.reasons,
    signedOff: signedOffOf(context),
    stoodWatch: named(facts.watchStints.map((stint) => stint.personId)),
    can: {
      round: can(viewer, 'permit:round', facts.siteId),
      watch: can(viewer, 'permit:watch', facts.siteId),
      close: can(viewer, 'permit:close', facts.siteId),
      sign: can(viewer, 'permit:sign', facts.siteId),
      resume: can(viewer, 'permit:resume', facts.siteId),
    },
  }
}
