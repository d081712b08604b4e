import { isGasOffDue } from '../rules/clocks'
import { gasTestReasons } from './gas-test'
import { gearDueReasons, lookDueReasons } from './shift'
import type { PermitFacts, Reason } from './types'
import { weatherReasons } from './weather'

const MS_PER_MIN = 60_000

/** What happens to a permit by itself now: nothing, a hold with its reasons, or its end. */
export type FallsDue =
  | { kind: 'nothing' }
  | { kind: 'hold'; reasons: readonly Reason[] }
  | { kind: 'expire'; at: Date }

export interface DueInput {
  facts: PermitFacts
  now: Date
}

function holdReasons({ facts, now }: DueInput): readonly Reason[] {
  const { duties, lastLookAt, shiftStartsAt = [] } = facts
  if (duties === null) return []
  return [
    ...gasTestReasons(facts.gasTests, duties, now),
    ...weatherReasons(facts.weather, duties),
    ...lookDueReasons(duties, lastLookAt, { shiftStartsAt, now }),
    ...gearDueReasons(duties, facts, now),
  ]
}

/**
 * What time alone does to a permit: its end turns open or held work into the watch; a gas test
 * that runs out, a new shift or a day without a look holds open work.
 */
export function fallsDue(input: DueInput): FallsDue {
  const { state, validUntil } = input.facts
  if (state !== 'open' && state !== 'held') return { kind: 'nothing' }
  if (validUntil !== null && validUntil.getTime() <= input.now.getTime())
    return { kind: 'expire', at: validUntil }
  if (state === 'held') return { kind: 'nothing' }
  const reasons = holdReasons(input)
  return reasons.length > 0 ? { kind: 'hold', reasons } : { kind: 'nothing' }
}

/** Whether the gas must be shut off at the supply by now, the hold having lasted so long. */
export function gasOffDue(facts: PermitFacts, now: Date): boolean {
  const { duties, heldAt, state } = facts
  if (state !== 'held' || heldAt === null || duties === null) return false
  return isGasOffDue(duties, (now.getTime() - heldAt.getTime()) / MS_PER_MIN)
}
