import { CalcError } from './errors'
import { type DatedTerms, rentByDay, type Stay } from './rent'

type Period = Readonly<{ fromDay: number; toDay: number }>

/** Money in minor units of one currency, whole where its parts are. */
export type HoldingCost = Readonly<{
  rentMinor: number
  demurrageMinor: number
  gasMinor: number
  /** Deposits that lost cylinders cost. */
  lostMinor: number
  totalMinor: number
  /** What no agreement and no price says, and is in no sum. */
  unknown: Readonly<{ rentDays: number; gasKg: number; lost: number }>
}>

export type HoldingInput = Readonly<{
  /** A stay, the terms of its size as they followed on each other, and the spans that are asked about; both ends of each count. */
  held: readonly Readonly<{
    stay: Stay
    terms: readonly DatedTerms[]
    spans: readonly Period[]
  }>[]
  /** Gas used at its price a kilogram when it was. */
  drawn: readonly Readonly<{ kg: number; minorPerKg: number | null }>[]
  /** Cylinders lost, −1 for one that was found again; what the agreement asks for one. */
  lost: readonly Readonly<{ count: 1 | -1; depositMinor: number | null }>[]
}>

const ONE_SPAN = 1

function rentParts({ stay, terms, spans }: HoldingInput['held'][number]) {
  const charges = spans.map((span) => rentByDay(stay, terms, span))
  const sum = (of: (charge: (typeof charges)[number]) => number) =>
    charges.reduce((total, charge) => total + of(charge), 0)
  return {
    rentMinor: sum((one) => one.rentMinor),
    demurrageMinor: sum((one) => one.demurrageMinor),
    unknownDays: sum((one) => one.unknownDays),
  }
}

/** Spans that are one after the other: a day in two of them would cost twice. */
function checkApart(spans: readonly Period[]): void {
  const sorted = spans.toSorted((a, b) => a.fromDay - b.fromDay)
  for (const [i, span] of sorted.slice(ONE_SPAN).entries())
    if (span.fromDay <= (sorted[i]?.toDay ?? span.fromDay))
      throw new CalcError('OUT_OF_RANGE', 'spans', span.fromDay)
}

/**
 * What holding and using cylinders cost: rent and demurrage of the days that are asked about, gas at its
 * price, deposits of the lost. The same for a site's month and a job's days.
 *
 * @param input days whole; kilograms; money in minor units of one currency
 * @throws {CalcError} OUT_OF_RANGE for days that are not whole, spans that overlap or prices below nothing
 * @source sums of `rentByDay`; that a lost cylinder costs its deposit: common practice, no source
 */
export function holdingCost({ held, drawn, lost }: HoldingInput): HoldingCost {
  for (const { spans } of held) checkApart(spans)
  for (const { minorPerKg } of drawn)
    if (minorPerKg !== null && (!Number.isFinite(minorPerKg) || minorPerKg < 0))
      throw new CalcError('OUT_OF_RANGE', 'minorPerKg', minorPerKg)
  const rents = held.map(rentParts)
  const total = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0)
  const rentMinor = total(rents.map((one) => one.rentMinor))
  const demurrageMinor = total(rents.map((one) => one.demurrageMinor))
  const gasMinor = total(drawn.map(({ kg, minorPerKg }) => kg * (minorPerKg ?? 0)))
  const lostMinor = total(lost.map(({ count, depositMinor }) => count * (depositMinor ?? 0)))
  return {
    rentMinor,
    demurrageMinor,
    gasMinor,
    lostMinor,
    totalMinor: rentMinor + demurrageMinor + gasMinor + lostMinor,
    unknown: {
      rentDays: total(rents.map((one) => one.unknownDays)),
      gasKg: total(drawn.filter((one) => one.minorPerKg === null).map((one) => one.kg)),
      lost: total(lost.filter((one) => one.depositMinor === null).map((one) => one.count)),
    },
  }
}

/** Days as spans, each of days that follow on each other. */
export function spansOfDays(days: readonly number[]): Period[] {
  const all = new Set(days)
  const sorted = [...all].toSorted((a, b) => a - b)
  const ends = sorted.filter((day) => !all.has(day + 1))
  return sorted
    .filter((day) => !all.has(day - 1))
    .map((fromDay, i) => ({ fromDay, toDay: ends[i] ?? fromDay }))
}
