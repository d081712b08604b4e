import { numberRefusals, type Outcome } from './check-numbers'
import { input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'
import { Z_90 } from './stats'
import { UNITS } from './units'

type Amount = { gasKg: number; standardUncertaintyKg: number }

export type BoilOffInput = {
  capacityKg: number
  /** The maker's loss at rest: share of the capacity a day. No published figure was found: yours. */
  lossSharePerDay: number
  lossShareStandardUncertainty?: number
  elapsedS: number
  before: Amount
  /** Gas that was used meanwhile. */
  drawn?: Amount
  /** What was found afterwards; without it only what to expect is answered. */
  after?: Amount
}

export type BoilOff = Outcome<{
  expectedLossKg: Measured
  expectedLeftKg: Measured
  /** What is gone beyond use and expected boil-off, and whether that is more than chance; null without `after`. */
  found: {
    excessKg: Measured
    verdict: 'withinBoilOff' | 'moreThanBoilOff'
  } | null
}>

/** Judgement, no source: a maker's loss figure is good to a quarter when nothing is said. */
const LOSS_SHARE_RELATIVE_U = 0.25

/**
 * What a liquid cylinder loses by standing, and whether what was found missing is more than that.
 *
 * @param input capacity and contents (kg), the maker's loss a day (share of capacity), time (s), use (kg)
 * @returns expected loss and contents, and the verdict; boil-off is an expected loss, never a leak
 * @remarks `moreThanBoilOff` when the excess is above nothing with 95 % certainty: look for a leak or a lost vacuum.
 * @source definition; the loss figure is the maker's, entered by the user
 */
export function boilOff(known: BoilOffInput): BoilOff {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const { before, after, drawn = { gasKg: 0, standardUncertaintyKg: 0 } } = known
  const expected = {
    before: amount(before),
    drawn: amount(drawn),
    lossSharePerDay: input(known.lossSharePerDay, '1/day', {
      u: known.lossShareStandardUncertainty ?? LOSS_SHARE_RELATIVE_U * known.lossSharePerDay,
      min: 0,
    }),
    capacityKg: input(known.capacityKg, 'kg'),
    elapsedS: input(known.elapsedS, 's'),
  }
  const lossOf = (at: Record<keyof typeof expected, number>) =>
    Math.min(
      Math.max(0, at.before - at.drawn),
      (at.capacityKg * at.lossSharePerDay * at.elapsedS) / UNITS.day.toBase,
    )
  const shared = { unit: 'kg', min: 0, inputs: expected } as const
  return {
    ok: true,
    expectedLossKg: measure({ ...shared, formulaCode: 'boilOffLoss', of: lossOf }),
    expectedLeftKg: measure({
      ...shared,
      formulaCode: 'boilOffLeft',
      of: (at) => Math.max(0, at.before - at.drawn - lossOf(at)),
    }),
    found: after ? foundOf({ ...expected, after: amount(after) }, lossOf) : null,
  }
}

function foundOf<K extends string>(
  inputs: Record<K | 'before' | 'drawn' | 'after', ReturnType<typeof input>>,
  lossOf: (at: Record<K | 'before' | 'drawn', number>) => number,
) {
  const excessKg = measure({
    formulaCode: 'boilOffExcess',
    unit: 'kg',
    inputs,
    of: (at) => at.before - at.drawn - at.after - lossOf(at),
  })
  const isMore = excessKg.mean > Z_90 * excessKg.standardUncertainty && excessKg.mean > 0
  return { excessKg, verdict: isMore ? ('moreThanBoilOff' as const) : ('withinBoilOff' as const) }
}

function amount({ gasKg, standardUncertaintyKg }: Amount) {
  return input(gasKg, 'kg', { u: standardUncertaintyKg })
}

function check(known: BoilOffInput): Refusal[] {
  const kg = { min: 0, unit: 'kg' }
  const amounts = (['before', 'drawn', 'after'] as const).flatMap((field) =>
    numberRefusals({
      [`${field}.gasKg`]: [known[field]?.gasKg, kg],
      [`${field}.standardUncertaintyKg`]: [known[field]?.standardUncertaintyKg, kg],
    }),
  )
  return [
    ...numberRefusals({
      capacityKg: [known.capacityKg, { above: 0, unit: 'kg' }],
      lossSharePerDay: [known.lossSharePerDay, { min: 0, max: 1 }],
      lossShareStandardUncertainty: [known.lossShareStandardUncertainty, { min: 0, max: 1 }],
      elapsedS: [known.elapsedS, { min: 0, unit: 's' }],
    }),
    ...amounts,
  ]
}
