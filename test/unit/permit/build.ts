import { freezeDuties } from '@/lib/permit/duties'
import type {
  FrozenDuties,
  Issuing,
  PermitFacts,
  PersonFact,
  Reason,
  Verdict,
} from '@/lib/permit/types'
import type { Conditions } from '@/lib/rules/conditions'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate } from '@/lib/rules/evaluate'
import { COMPANY_LAYER, companyLayer, RULESETS } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import type { RulesetId } from '@/lib/rules/types'

const START = Date.parse('2026-03-02T12:00:00Z')
/** The instant so many minutes after noon. */
export const at = (minute: number) => new Date(START + minute * 60_000)
export const DAY = '2026-03-02'

export const NEAR: Conditions = {
  ...DEFAULT_CONDITIONS,
  nearestCombustibleFt: 20,
  combustibleState: 'covered',
}

const allKinds = ['torch_operator', 'fire_watch', 'pai'] as const
export function person(id: string, name: string, over: Partial<PersonFact> = {}): PersonFact {
  const qualifications = allKinds.map((kind) => ({
    kind,
    validFrom: '2026-01-01',
    validUntil: '2026-12-31',
  }))
  return { id, name, isActive: true, qualifications, ...over }
}
export const OWEN = person('owen', 'Owen Reyes')
export const BEA = person('bea', 'Bea Lindqvist')
export const RAY = person('ray', 'Ray Castell')

export function dutiesUnder(
  ids: readonly RulesetId[],
  { monitoringMin = 0, conditions = NEAR, postWatchMin = 0 } = {},
): FrozenDuties {
  const layers = ids.map((id) => RULESETS[id])
  return freezeDuties({
    evaluation: evaluate(layers, conditions),
    parameters: resolveParameters(layers, companyLayer(1, { postWatchMin })),
    isEnclosed: conditions.enclosed,
    watchJudgement: 'yes',
    monitoringMin,
    posts: ['deck 3', 'deck 2'],
  })
}

export const DUTIES = dutiesUnder(['us-osha-1910', 'us-nfpa51b-2019'], { postWatchMin: 60 })

/** A permit that is cleared, with the operator and the watch signed and good air at noon. */
export function clearedPermit(over: Partial<PermitFacts> = {}): PermitFacts {
  return {
    state: 'cleared',
    siteId: 'site',
    areaId: 'area',
    areaLabel: 'Deck 3',
    number: '0417-3',
    operatorId: OWEN.id,
    fireWatchId: BEA.id,
    paiId: null,
    isEnclosed: false,
    clearedAt: at(-10),
    issuedAt: null,
    validUntil: null,
    heldAt: null,
    torchOutAt: null,
    stopPressedAt: null,
    stoppedAt: null,
    expiredAt: null,
    lastLookAt: at(-10),
    duties: null,
    signatures: [
      { act: 'agree', personId: OWEN.id, signedAt: at(-4) },
      { act: 'acknowledge', personId: BEA.id, signedAt: at(-3) },
    ],
    gasTests: [{ takenAt: at(-5), oxygenPct: 20.9, lelPct: 0, coPpm: null, h2sPpm: null }],
    watchStints: [],
    operatorStints: [],
    rounds: [],
    openSpans: [],
    impairments: [],
    monitoredAt: null,
    monitoringChecksAt: [],
    finalLookAt: null,
    statementAt: null,
    ...over,
  }
}

export function issuing(over: Partial<Issuing> = {}): Issuing {
  const layers = [RULESETS['us-osha-1910'], RULESETS['us-nfpa51b-2019'], COMPANY_LAYER]
  return {
    paiId: RAY.id,
    evaluation: evaluate(layers, NEAR),
    duties: DUTIES,
    watchJudgement: null,
    outfit: { id: 'o7', label: 'Outfit 7', isInService: true },
    people: [OWEN, BEA, RAY],
    busy: [],
    paiArrivedAt: at(-20),
    day: DAY,
    validUntil: at(240),
    ...over,
  }
}

/** Open since noon, valid for four hours, both on. */
export function openPermit(over: Partial<PermitFacts> = {}): PermitFacts {
  return clearedPermit({
    state: 'open',
    paiId: RAY.id,
    issuedAt: at(0),
    validUntil: at(240),
    duties: DUTIES,
    openSpans: [{ from: at(0), to: null }],
    operatorStints: [{ personId: OWEN.id, onAt: at(0), offAt: null }],
    watchStints: [{ personId: BEA.id, onAt: at(0), offAt: null }],
    ...over,
  })
}

const roundAt = (minute: number, answer: 'clear' | 'warm' | 'smoke' = 'clear') => ({
  at: at(minute),
  personId: BEA.id,
  posts: [
    { post: 'deck 3', answer },
    { post: 'deck 2', answer: 'clear' as const },
  ],
})

export { roundAt }

/** Torch out at minute 60, watched by rounds every ten minutes up to `roundsUntil`. */
export function watchedPermit(roundsUntil: number, over: Partial<PermitFacts> = {}): PermitFacts {
  const count = Math.max(0, Math.floor((roundsUntil - 60) / 10))
  return openPermit({
    state: 'watch',
    torchOutAt: at(60),
    openSpans: [{ from: at(0), to: at(60) }],
    operatorStints: [{ personId: OWEN.id, onAt: at(0), offAt: at(60) }],
    rounds: Array.from({ length: count }, (_, index) => roundAt(70 + index * 10)),
    ...over,
  })
}

export function codes(result: Verdict<unknown>): string[] {
  return result.ok ? [] : reasonsOf(result).map((one) => one.code)
}
export function reasonsOf(result: Verdict<unknown>): readonly Reason[] {
  return result.ok ? [] : result.reasons
}
