import { CYLINDER_SPECS, type CylinderSpec, requalification } from './requalification'

/** What a cylinder's plate and record say, as the record keeps them. */
export type Plate = Readonly<{
  /** As stamped or typed, "DOT-3AA2265". */
  spec: string
  gasId: string
  vessel: string
  madeMonth: string | null
  method: 'volumetric' | 'proof' | 'visual' | null
  isStarred: boolean
}>

/** Gases that leave a coated 4B-family cylinder alone. From memory: 49 CFR 180.209(e) lists them. */
const GENTLE_GASES: ReadonlySet<string> = new Set(['propane', 'propylene', 'mps'])

/** The specification in what is stamped; null where it names none that is known. */
export function specOf(stamped: string): CylinderSpec | null {
  const found = /(?:^|[^A-Z0-9])(3AA|3AL|3A|3E|4BA|4BW|4B|4L|8AL|8)(?![A-Z])/.exec(
    stamped.toUpperCase(),
  )
  return CYLINDER_SPECS.find((spec) => spec === found?.[1]) ?? null
}

/**
 * What `requalification` makes of a plate. Nobody takes a pack apart for each filling, so its star
 * does not count.
 *
 * @returns null where the specification is not one the text names
 * @source 49 CFR 180.205, 180.209
 */
export function requalificationOf(
  plate: Plate,
  dates: Readonly<{
    /** The last test, `YYYY-MM`. */
    last: string | null
    filled: string | null
    today: string
    condition?: Parameters<typeof requalification>[0]['condition']
    serviceLifeEnds?: string | null
  }>,
) {
  const spec = specOf(plate.spec)
  if (spec === null) return null
  return requalification({
    spec,
    manufactured: plate.madeMonth,
    last: dates.last,
    isStarred: plate.isStarred && plate.vessel !== 'pack',
    gas: plate.gasId,
    method: plate.method,
    service: GENTLE_GASES.has(plate.gasId) ? 'noncorrosive_coated' : 'other',
    condition: dates.condition ?? 'sound',
    filled: dates.filled,
    serviceLifeEnds: dates.serviceLifeEnds?.slice(0, 7) ?? null,
    today: dates.today,
  })
}

/** The last month that a test of this day may be said to hold to; null where the text names no interval. */
export function latestDue(plate: Plate, testedOn: string): string | null {
  const last = testedOn.slice(0, 7)
  const found = requalificationOf(plate, { last, filled: null, today: testedOn })
  // A filler that was never looked into is due by itself; the test of the shell counts from its own day.
  return found?.shellDue ?? found?.due ?? null
}

/** The month of the first test of one that never had any, by when it was made. */
export function firstDue(plate: Plate & { madeMonth: string }): string | null {
  const never = { last: null, filled: null, today: `${plate.madeMonth}-01` }
  const found = requalificationOf(plate, never)
  return found?.shellDue ?? found?.due ?? null
}
