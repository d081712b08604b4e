import { addMinutes, minutesBetween, reason } from './reasons'
import type { FrozenDuties, GasTestFact, Reason } from './types'

/** A low oxygen reading makes the flammable reading unreliable, so oxygen comes first (29 CFR 1926.1204(e)(3)). */
export const GAS_TEST_ORDER = ['oxygen', 'lel', 'toxic'] as const
export type GasReading = (typeof GAS_TEST_ORDER)[number]

/** Whether readings were taken in the order of the standard, none twice. */
export function isInTestOrder(sequence: readonly GasReading[]): boolean {
  return GAS_TEST_ORDER.filter((one) => sequence.includes(one)).join() === sequence.join()
}

export type GasLimits = Pick<
  FrozenDuties,
  | 'oxygenMinPct'
  | 'oxygenMaxPct'
  | 'oxygenStopAtPct'
  | 'lelMaxPct'
  | 'lelStopAtPct'
  | 'coMaxPpm'
  | 'h2sMaxPpm'
>

/** The reading that already counts as enriched, where a text sets one below the range's own end. */
function oxygenHigh(oxygenPct: number, limits: GasLimits): [boolean, Reason] {
  const { oxygenStopAtPct, oxygenMaxPct } = limits
  const isStop = oxygenStopAtPct !== null && oxygenPct >= oxygenStopAtPct
  const limit = isStop ? Math.min(oxygenStopAtPct, oxygenMaxPct) : oxygenMaxPct
  const ruleId = isStop ? 'osha1915-atmosphere-oxygen-enriched-22' : 'osha-cs-oxygen-range'
  return [
    isStop || oxygenPct > oxygenMaxPct,
    reason('gas_test_oxygen_high', { value: oxygenPct, limit }, ruleId),
  ]
}

/** Clean air has so much oxygen; anything below it was taken by something. */
export const AIR_OXYGEN_PCT = 20.9

/** A drop from the oxygen of air that nobody has explained. */
export function isDropUnexplained({ oxygenPct, oxygenCause }: GasTestFact): boolean {
  return oxygenPct < AIR_OXYGEN_PCT && oxygenCause === null
}

/** What speaks against work in this air; end values of the oxygen range are still acceptable. */
export function gasReadingReasons(test: GasTestFact, limits: GasLimits): Reason[] {
  const { oxygenPct, lelPct, coPpm, h2sPpm } = test
  const isLelOver =
    lelPct > limits.lelMaxPct || (limits.lelStopAtPct !== null && lelPct >= limits.lelStopAtPct)
  const ranges: [boolean, Reason][] = [
    [
      oxygenPct < limits.oxygenMinPct,
      reason(
        'gas_test_oxygen_low',
        { value: oxygenPct, limit: limits.oxygenMinPct },
        'osha-cs-oxygen-range',
      ),
    ],
    oxygenHigh(oxygenPct, limits),
    [
      isLelOver,
      reason('gas_test_lel', { value: lelPct, limit: limits.lelMaxPct }, 'osha-cs-lfl-10'),
    ],
    [isDropUnexplained(test), reason('gas_test_cause', { value: oxygenPct })],
    [
      coPpm !== null && coPpm > limits.coMaxPpm,
      reason('gas_test_co', { value: coPpm ?? 0, limit: limits.coMaxPpm }),
    ],
    [
      h2sPpm !== null && h2sPpm > limits.h2sMaxPpm,
      reason('gas_test_h2s', { value: h2sPpm ?? 0, limit: limits.h2sMaxPpm }),
    ],
  ]
  return ranges.flatMap(([isOut, why]) => (isOut ? [why] : []))
}

export type GasTestVerdict =
  | { status: 'good'; test: GasTestFact; expiresAt: Date }
  | { status: 'not_needed' }
  | { status: 'missing' | 'expired' | 'out_of_limits'; reasons: readonly Reason[] }

/** The last test decides: its age, then its readings. Future tests do not count. */
export function gasTestVerdict(
  tests: readonly GasTestFact[],
  duties: FrozenDuties,
  now: Date,
): GasTestVerdict {
  const taken = tests.filter((test) => test.takenAt.getTime() <= now.getTime())
  const last = taken.toSorted((a, b) => a.takenAt.getTime() - b.takenAt.getTime()).at(-1)
  // A reading out of limits counts even where no test was asked for.
  const out = last ? gasReadingReasons(last, duties) : []
  if (out.length > 0) return { status: 'out_of_limits', reasons: out }
  if (!duties.gasTestNeeded) return { status: 'not_needed' }
  const validMin = duties.gasTestValidMin
  if (!last) return { status: 'missing', reasons: [reason('gas_test_missing', { validMin })] }
  const expiresAt = addMinutes(last.takenAt, validMin)
  if (last.isInstrumentInDate === false) {
    const instrument = last.instrument ?? ''
    return { status: 'expired', reasons: [reason('gas_test_instrument', { instrument })] }
  }
  if (expiresAt.getTime() > now.getTime()) return { status: 'good', test: last, expiresAt }
  const ageMin = minutesBetween(last.takenAt, now)
  return { status: 'expired', reasons: [reason('gas_test_expired', { ageMin, validMin })] }
}

/** The reasons alone, for the checks that list them among others. */
export function gasTestReasons(
  tests: readonly GasTestFact[],
  duties: FrozenDuties,
  now: Date,
): readonly Reason[] {
  const result = gasTestVerdict(tests, duties, now)
  return 'reasons' in result ? result.reasons : []
}
