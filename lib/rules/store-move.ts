import { findingsInForce, type StoreFinding } from './finding'
import type { StoreAnswers } from './store-answers'
import { type StandingLot, type StoreAreaFacts, storeAreaFindings } from './store-area'
import type { StoreRuleId, StoreScope } from './store-catalogue'

/**
 * Whether a text lets nobody put a cylinder there, or asks somebody to look and say so. Rules that are
 * not named here are shown only.
 */
const HOW: Readonly<Partial<Record<StoreRuleId, 'refuse' | 'warn'>>> = {
  'osha1910-oxygen-separation': 'refuse',
  'osha1926-oxygen-separation': 'refuse',
  'ifc-separation-incompatible': 'refuse',
  'osha1910-indoor-general': 'refuse',
  'osha1926-indoor-general': 'refuse',
  'osha1910-fuel-indoor-2000': 'refuse',
  'osha1926-lpg-no-indoor-storage': 'refuse',
  'nfpa58-indoor-300lb': 'warn',
  'ifc-maq-flammable-gas': 'refuse',
  'ifc-maq-oxidizing-gas': 'refuse',
  'ifc-maq-outdoor': 'refuse',
  'ifc-permit-thresholds-gas': 'warn',
  'ifc-vegetation-10ft': 'warn',
  'ifc-no-smoking-25ft': 'warn',
  'ifc-temperature-125': 'warn',
  'osha1926-lpg-outdoor-distance': 'warn',
  'osha1926-lpg-extinguisher': 'warn',
  'nfpa58-outdoor-720lb': 'warn',
}

export interface StoreMove {
  facts: StoreAreaFacts
  /** Null: nobody answered, or so long ago that it is asked again. */
  answers: StoreAnswers | null
  /** What stands there without what is brought. */
  standing: readonly StandingLot[]
  brought: readonly StandingLot[]
  scopes: ReadonlySet<StoreScope>
}

export interface MoveVerdict {
  refused: readonly StoreFinding[]
  /** To be confirmed by who brings it. */
  warned: readonly StoreFinding[]
}

const isSame = (a: StoreFinding, b: StoreFinding) =>
  a.ruleId === b.ruleId &&
  a.code === b.code &&
  JSON.stringify(a.params) === JSON.stringify(b.params)

/** A point of the place as such, which every cylinder brought there meets anew. */
const OF_THE_PLACE: ReadonlySet<string> = new Set([
  'separation',
  'indoor_place',
  'indoor_combustibles',
])

/**
 * Whether cylinders may be put in an area: what the move breaks or makes worse. What was broken before and
 * stays as it was is not the move's; a separation that nobody measured is asked for and not refused, since
 * nobody knows that it is broken.
 *
 * @source each finding's own rule
 */
export function judgeMove({ facts, answers, standing, brought, scopes }: StoreMove): MoveVerdict {
  const broken = (lots: readonly StandingLot[]) =>
    findingsInForce(storeAreaFindings(facts, lots, answers), scopes).filter(
      (one) => one.verdict !== 'ok',
    )
  const before = broken(standing)
  const caused = broken([...standing, ...brought]).filter(
    (one) => OF_THE_PLACE.has(one.code) || !before.some((earlier) => isSame(earlier, one)),
  )
  const isAsked = (one: StoreFinding) => answers === null && one.code === 'separation'
  const isOf = (one: StoreFinding, how: 'refuse' | 'warn') =>
    (isAsked(one) ? 'warn' : HOW[one.ruleId]) === how
  return {
    refused: caused.filter((one) => isOf(one, 'refuse')),
    warned: caused.filter((one) => isOf(one, 'warn')),
  }
}
