import { CalcError } from './errors'

/** Days are whole, counted from 1970-01-01 by the calendar of the site: both ends of a stay count. */
export type Stay = Readonly<{
  serial: string
  sizeId: string
  /** The day it came. */
  fromDay: number
  /** The day it went; null while it stands. */
  toDay: number | null
  /** The first day of its rent, where it stood elsewhere before; else the day it came. */
  rentFromDay?: number | undefined
}>

/** What a supplier asks for a cylinder of a size. Money in minor units. */
export type RentTerms = Readonly<{
  /** Days of each stay that cost nothing. */
  freeDays: number
  rentMinorPerDay: number
  /** From this day of a stay on, demurrage is asked instead of rent; null: never. */
  demurrageFromDay: number | null
  demurrageMinorPerDay: number
}>

export type RentCharge = Readonly<{
  days: number
  freeDays: number
  rentDays: number
  demurrageDays: number
  amountMinor: number
}>

const NO_TERMS: RentTerms = {
  freeDays: 0,
  rentMinorPerDay: 0,
  demurrageFromDay: null,
  demurrageMinorPerDay: 0,
}

const overlap = (from: number, to: number, low: number, high: number) =>
  Math.max(0, Math.min(to, high) - Math.max(from, low) + 1)

function checkDay(field: string, value: number): void {
  if (!Number.isInteger(value)) throw new CalcError('OUT_OF_RANGE', field, value)
}

/**
 * What a stay costs within a period: the first days free, then rent, then demurrage, each day by its
 * place in the rent and not in the period.
 *
 * @param stay whole days, fromDay ≤ toDay
 * @param period both ends included
 * @returns whole days of each kind, amount in minor units
 * @throws {CalcError} OUT_OF_RANGE for days that are not whole or terms below nothing
 * @source the wording of cylinder rental agreements: common practice, no source
 */
export function rentOf(
  stay: Stay,
  terms: RentTerms,
  period: Readonly<{ fromDay: number; toDay: number }>,
): RentCharge {
  for (const [field, value] of Object.entries({ ...period, stayFrom: stay.fromDay }))
    checkDay(field, value)
  const { freeDays: free, rentMinorPerDay, demurrageFromDay, demurrageMinorPerDay } = terms
  const asked = { freeDays: free, rentMinorPerDay, demurrageFromDay, demurrageMinorPerDay }
  for (const [field, value] of Object.entries(asked))
    if (value !== null && (!Number.isFinite(value) || value < 0))
      throw new CalcError('OUT_OF_RANGE', field, value)
  const last = Math.min(stay.toDay ?? period.toDay, period.toDay)
  const first = Math.max(stay.fromDay, period.fromDay)
  if (last < first) return { days: 0, freeDays: 0, rentDays: 0, demurrageDays: 0, amountMinor: 0 }
  const rentFrom = stay.rentFromDay ?? stay.fromDay
  const freeUntil = rentFrom + terms.freeDays - 1
  const demurrageFrom =
    terms.demurrageFromDay === null
      ? Number.POSITIVE_INFINITY
      : Math.max(rentFrom + terms.demurrageFromDay - 1, freeUntil + 1)
  const freeDays = overlap(first, last, rentFrom, freeUntil)
  const rentDays = overlap(first, last, freeUntil + 1, demurrageFrom - 1)
  const demurrageDays = overlap(first, last, demurrageFrom, Number.POSITIVE_INFINITY)
  return {
    days: last - first + 1,
    freeDays,
    rentDays,
    demurrageDays,
    amountMinor: rentDays * terms.rentMinorPerDay + demurrageDays * terms.demurrageMinorPerDay,
  }
}

/** Terms and the first day they hold; they hold until the next begin. */
export type DatedTerms = RentTerms & Readonly<{ validFromDay: number }>

export type DatedCharge = RentCharge &
  Readonly<{
    rentMinor: number
    demurrageMinor: number
    /** Days before any terms: nothing says what they cost. */
    unknownDays: number
  }>

/**
 * What a stay costs within a period in which the terms changed: each day by the terms of that day and by
 * its own place in the rent. A day before any terms is counted and priced by nobody.
 *
 * @param terms of one supplier and size, in any order; none twice for a day
 * @param period both ends included
 * @throws {CalcError} OUT_OF_RANGE as `rentOf`
 * @source sums of `rentOf`; that new terms hold from their own day on, and not for days already past:
 *   common practice, no source
 */
export function rentByDay(
  stay: Stay,
  terms: readonly DatedTerms[],
  period: Readonly<{ fromDay: number; toDay: number }>,
): DatedCharge {
  const inOrder = terms.toSorted((a, b) => a.validFromDay - b.validFromDay)
  const parts = inOrder.map((own, at) => {
    const until = (inOrder[at + 1]?.validFromDay ?? Number.POSITIVE_INFINITY) - 1
    const span = {
      fromDay: Math.max(period.fromDay, own.validFromDay),
      toDay: Math.min(period.toDay, until),
    }
    return { own, charge: rentOf(stay, own, span) }
  })
  const days = rentOf(stay, NO_TERMS, period).days
  const sum = (of: (part: (typeof parts)[number]) => number) =>
    parts.reduce((total, part) => total + of(part), 0)
  const rentMinor = sum(({ own, charge }) => charge.rentDays * own.rentMinorPerDay)
  const demurrageMinor = sum(({ own, charge }) => charge.demurrageDays * own.demurrageMinorPerDay)
  return {
    days,
    freeDays: sum(({ charge }) => charge.freeDays),
    rentDays: sum(({ charge }) => charge.rentDays),
    demurrageDays: sum(({ charge }) => charge.demurrageDays),
    amountMinor: rentMinor + demurrageMinor,
    rentMinor,
    demurrageMinor,
    unknownDays: days - sum(({ charge }) => charge.days),
  }
}
