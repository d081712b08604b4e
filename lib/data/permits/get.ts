import 'server-only'
import { type Action, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { Reason } from '@/lib/errors'
import { gasTestVerdict } from '@/lib/permit/gas-test'
import { mayClear } from '@/lib/permit/issue'
import { gearDueReasons, lookServesUntil } from '@/lib/permit/shift'
import type { SignatureAct, WatchProgress } from '@/lib/permit/types'
import { looksCountSince } from '@/lib/permit/work'
import type { PrecautionId, WatchNeed } from '@/lib/rules/types'
import type { ISOLATION_STEPS } from '@/lib/schemas/permit-prepare'
import { db } from '../client'
import { type OutfitContents, outfitContents } from '../outfits-contents'
import { type PermitContext, personName, readPermitContext } from './context'
import { instant } from './facts'
import { type PermitHead, toHead } from './head'

export type CutRow = Readonly<{
  id: string
  ordinal: number
  title: string
  count: number
  doneCount: number
}>

type IsolationStep = (typeof ISOLATION_STEPS)[number]
/** Older permits do not say when the other ends. */
type LinkedPermit = Readonly<{ number: string; until: Date | null }>

export type PermitView = Readonly<{
  head: PermitHead
  now: Date
  day: string
  emergencyWords: string
  plannedFrom: Date
  plannedUntil: Date
  issuedAt: Date | null
  validUntil: Date | null
  lastCutBy: Date | null
  heldAt: Date | null
  holdReason: string | null
  torchOutAt: Date | null
  stopPressedAt: Date | null
  stoppedAt: Date | null
  clearedAt: Date | null
  withdrawnAt: Date | null
  /** When the present span of work began; null while none is open. */
  openSince: Date | null
  isEnclosed: boolean
  isOutdoors: boolean
  /** Whoever has cut under this permit, the latest first. */
  operators: readonly Readonly<{ id: string; name: string }>[]
  people: Readonly<{
    operatorId: string
    operator: string
    watcher: string
    issuedBy: string | null
    preparedBy: string
  }>
  survey: Readonly<{ answered: number; total: number; left: number }>
  gasTest: Readonly<{
    at: Date
    oxygenPct: number
    lelPct: number
    coPpm: number | null
    h2sPpm: number | null
    instrument: string
  }> | null
  gas: Readonly<{
    status: 'good' | 'not_needed' | 'missing' | 'expired' | 'out_of_limits'
    expiresAt: Date | null
    validMin: number
    /** In an enclosed space: tested all the time, and written down as often as the test lasts. */
    isContinuous: boolean
  }>
  watch: WatchProgress | null
  watchMin: number
  watchNeed: WatchNeed
  /** Minutes of watch that each ruleset asks for; null where it names none. */
  watchByLayer: readonly Readonly<{
    citation: string
    minutes: number | null
    statement: boolean
    isAsked: boolean
  }>[]
  precautions: readonly Readonly<{ id: PrecautionId; rules: readonly string[] }>[]
  signatures: readonly Readonly<{ act: SignatureAct; name: string; at: Date }>[]
  lastLog: Readonly<{ at: Date; cut: CutRow | null; pieces: number }> | null
  cuts: readonly CutRow[]
  /** A look at the area since the torch went out; null while nobody has looked again. */
  lookedAgainAt: Date | null
  /** While it is open: when the last look stops serving, if that is before its end. */
  lookUntil: Date | null
  /** Whether hoses and torch are still to be looked at in this shift. */
  isGearDue: boolean
  coldWhy: string
  inside: string
  behind: string
  hostPermit: LinkedPermit | null
  entryPermit: LinkedPermit | null
  /** Whose person watches and authorises where the operator is alone. */
  loneClient: string | null
  isolation: Readonly<{ steps: readonly IsolationStep[]; provenBy: string }> | null
  outfit: Readonly<{ id: string; number: string; isInService: boolean }> | null
  vessels: OutfitContents | null
  waits: readonly Reason[]
  can: Readonly<
    Record<
      | 'clear'
      | 'sign'
      | 'hold'
      | 'resume'
      | 'log'
      | 'endWork'
      | 'withdraw'
      | 'swap'
      | 'watch'
      | 'paper',
      boolean
    >
  >
}>

async function readCuts(cutListId: string | null): Promise<CutRow[]> {
  if (cutListId === null) return []
  return db.cut.findMany({
    where: { cutListId },
    select: { id: true, ordinal: true, title: true, count: true, doneCount: true },
    orderBy: { ordinal: 'asc' },
    take: 200,
  })
}

/** What the permit waits for before it can be issued; nothing once it was. */
function waitsOf(context: PermitContext): readonly Reason[] {
  if (context.facts.state !== 'preparing') return []
  const { facts, area, answers, evaluation } = context
  const verdict = mayClear({ facts, area, answers, evaluation })
  return verdict.ok ? [] : verdict.reasons
}

function gasOf(context: PermitContext): Pick<PermitView, 'gas' | 'gasTest'> {
  const last = context.bundle.gas_tests.at(-1)
  const verdict = gasTestVerdict(context.facts.gasTests, context.duties, context.now)
  return {
    gasTest: last
      ? {
          at: new Date(last.at),
          oxygenPct: last.oxygen_pct,
          lelPct: last.lel_pct,
          coPpm: last.co_ppm,
          h2sPpm: last.h2s_ppm,
          instrument: last.instrument,
        }
      : null,
    gas: {
      status: verdict.status,
      expiresAt: verdict.status === 'good' ? verdict.expiresAt : null,
      validMin: context.duties.gasTestValidMin,
      isContinuous: context.duties.gasTestContinuous,
    },
  }
}

const MAY: Readonly<Record<keyof PermitView['can'], Action>> = {
  clear: 'permit:clear',
  sign: 'permit:sign',
  hold: 'permit:hold',
  resume: 'permit:resume',
  log: 'permit:log',
  endWork: 'permit:end-work',
  withdraw: 'permit:withdraw',
  swap: 'cylinder:swap',
  watch: 'permit:watch',
  paper: 'permit:paper',
}

function rights(viewer: Viewer, siteId: string): PermitView['can'] {
  return Object.fromEntries(
    Object.entries(MAY).map(([name, action]) => [name, can(viewer, action, siteId)]),
  ) as PermitView['can']
}

function rulesOf({
  evaluation,
  layers,
  duties,
}: PermitContext): Pick<PermitView, 'watchByLayer' | 'precautions' | 'watchNeed' | 'watchMin'> {
  return {
    watchMin: duties.watchMin,
    watchNeed: evaluation.required,
    watchByLayer: evaluation.perLayer.map((one) => ({
      citation: layers.find((layer) => layer.id === one.layerId)?.citation ?? one.layerId,
      minutes: one.postWatchMin,
      statement: one.statementRequired,
      isAsked: one.required !== 'no',
    })),
    precautions: evaluation.precautions.map(({ id, rules }) => ({ id, rules })),
  }
}

function peopleOf(context: PermitContext): PermitView['people'] {
  const { facts, bundle } = context
  const cutting =
    facts.operatorStints.findLast((stint) => stint.offAt === null)?.personId ?? facts.operatorId
  const watching =
    facts.watchStints.findLast((stint) => stint.offAt === null)?.personId ?? facts.fireWatchId
  return {
    operatorId: cutting ?? '',
    operator: personName(context, cutting),
    watcher: personName(context, watching),
    issuedBy: facts.paiId ? personName(context, facts.paiId) : null,
    preparedBy: personName(context, bundle.permit.prepared_by),
  }
}

function operatorsOf(context: PermitContext): PermitView['operators'] {
  const ids = new Set(context.facts.operatorStints.toReversed().map((stint) => stint.personId))
  return [...ids].map((id) => ({ id, name: personName(context, id) }))
}

interface Words {
  why?: string
  inside?: string
  behind?: string
  steps?: IsolationStep[]
  provenBy?: string | null
}

const linkedOf = (number: string | null, until: string | null): LinkedPermit | null =>
  number === null ? null : { number, until: instant(until) }

function lookedAgain({ facts }: PermitContext): Date | null {
  const since = looksCountSince(facts)
  return since && facts.lastLookAt && facts.lastLookAt >= since ? facts.lastLookAt : null
}

function lookUntil({ facts }: PermitContext): Date | null {
  const { state, duties, lastLookAt, validUntil, shiftStartsAt = [] } = facts
  if (state !== 'open' || duties === null || lastLookAt === null || validUntil === null) return null
  const until = lookServesUntil(duties, lastLookAt, shiftStartsAt)
  return until !== null && until < validUntil ? until : null
}

/** Everything the permit's own page shows, as it stood at one moment. */
export async function getPermit(viewer: Viewer, permitId: string): Promise<PermitView> {
  const context = await readPermitContext(viewer, permitId)
  const { bundle, facts, now } = context
  const { permit, outfit } = bundle
  const cuts = await readCuts(permit.cut_list_id)
  const isRunning = facts.state === 'open' || facts.state === 'held' || facts.state === 'cleared'
  const vessels = outfit && isRunning ? await outfitContents(viewer, outfit.id, now) : null
  const log = bundle.last_log
  const isolation = (permit.isolation ?? {}) as Words // as preparePermit wrote it
  return {
    head: toHead(context),
    now,
    day: context.day,
    emergencyWords: bundle.site.emergency_words,
    plannedFrom: new Date(permit.planned_from),
    plannedUntil: new Date(permit.planned_until),
    issuedAt: facts.issuedAt,
    validUntil: facts.validUntil,
    lastCutBy: instant(permit.last_cut_by),
    heldAt: facts.heldAt,
    holdReason: permit.hold_reason,
    torchOutAt: facts.torchOutAt,
    stopPressedAt: facts.stopPressedAt,
    stoppedAt: facts.stoppedAt,
    clearedAt: facts.clearedAt,
    withdrawnAt: instant(permit.withdrawn_at),
    openSince: facts.openSpans.findLast((span) => span.to === null)?.from ?? null,
    isEnclosed: facts.isEnclosed,
    isOutdoors: !context.area.indoors,
    operators: operatorsOf(context),
    people: peopleOf(context),
    survey: context.progress,
    ...gasOf(context),
    watch: context.watch,
    ...rulesOf(context),
    signatures: facts.signatures.map((one) => ({
      act: one.act,
      name: personName(context, one.personId),
      at: one.signedAt,
    })),
    lastLog: log
      ? {
          at: new Date(log.to_at),
          pieces: log.pieces,
          cut: cuts.find((cut) => cut.id === log.cut_id) ?? null,
        }
      : null,
    cuts,
    lookedAgainAt: lookedAgain(context),
    lookUntil: lookUntil(context),
    isGearDue: gearDueReasons(context.duties, facts, now).length > 0,
    coldWhy: (permit.cold_answer as Words).why ?? '',
    inside: isolation.inside ?? '',
    behind: isolation.behind ?? '',
    hostPermit: linkedOf(permit.host_permit, permit.host_permit_until),
    entryPermit: linkedOf(permit.entry_permit, permit.entry_permit_until),
    loneClient: permit.lone_client,
    isolation: isolation.steps?.length
      ? { steps: isolation.steps, provenBy: isolation.provenBy ?? '' }
      : null,
    outfit: outfit && {
      id: outfit.id,
      number: outfit.number,
      isInService: outfit.state === 'in_service',
    },
    vessels,
    waits: waitsOf(context),
    can: rights(viewer, facts.siteId),
  }
}
