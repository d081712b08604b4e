import { numberRefusals, type Outcome } from './check-numbers'
import { gasCostMinor } from './gas-cost'
import { input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'

type Priced = { quantity: number; standardUncertainty?: number; unitPriceMinor: number }

export type WorkCostInput = {
  /** ISO 4217; every price is in its minor unit. */
  currency: string
  /** Gas by any unit that quantity and price share: m³, kg, cylinder. */
  gas: ({ code: string } & Priced)[]
  /** Cylinders kept, days, and what one costs a day. */
  rent?: { cylinders: number; days: number; perCylinderDayMinor: number }
  labour?: {
    hours: number
    standardUncertaintyHours?: number
    perHourMinor: number
    people?: number
  }
  /** Tips, rod, wire, discs. */
  consumables?: ({ code: string } & Priced)[]
  /** What the cost is spread over. */
  cuts?: number
  lengthM?: number
}

export type WorkCost = Outcome<{
  currency: string
  gasMinor: Measured
  rentMinor: Measured
  labourMinor: Measured
  consumablesMinor: Measured
  totalMinor: Measured
  perCutMinor: Measured | null
  perMetreMinor: Measured | null
}>

const NOTHING = { value: 0, u: 0 }

/**
 * Cost of a job: gas, cylinder rent, labour and consumables, in all, per cut and per metre.
 *
 * @param known quantities with their uncertainty and unit prices in minor units of one currency
 * @returns minor units, not rounded, each part with its uncertainty; or refusals
 * @remarks Lines of one part add as independent.
 * @source definition; reproduces the cost column of Manly 1916 (Gutenberg 7969) to the tenth of a cent
 */
export function workCost(known: WorkCostInput): WorkCost {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const inputs = partsOf(known)
  const totalOf = (at: Record<keyof typeof inputs, number>) =>
    at.gas + at.rent + at.labour + at.consumables
  const minor = { unit: 'minor', min: 0 } as const
  const part = (name: keyof typeof inputs) =>
    measure({
      ...minor,
      formulaCode: `${name}Cost`,
      inputs: { [name]: inputs[name] },
      of: (at) => at[name] ?? 0,
    })
  const per = (count: number | undefined, code: string) =>
    count === undefined
      ? null
      : measure({ ...minor, formulaCode: code, inputs, of: (at) => totalOf(at) / count })
  return {
    ok: true,
    currency: known.currency,
    gasMinor: part('gas'),
    rentMinor: part('rent'),
    labourMinor: part('labour'),
    consumablesMinor: part('consumables'),
    totalMinor: measure({ ...minor, formulaCode: 'workCost', inputs, of: totalOf }),
    perCutMinor: per(known.cuts, 'workCostPerCut'),
    perMetreMinor: per(known.lengthM, 'workCostPerMetre'),
  }
}

function partsOf(known: WorkCostInput) {
  const { rent } = known
  const gas = sumOf(known.gas)
  const labour = labourOf(known.labour)
  const consumables = sumOf(known.consumables ?? [])
  const rentMinor = rent ? rent.cylinders * rent.days * rent.perCylinderDayMinor : 0
  return {
    gas: input(gas.value, 'minor', { u: gas.u }),
    rent: input(rentMinor, 'minor'),
    labour: input(labour.value, 'minor', { u: labour.u }),
    consumables: input(consumables.value, 'minor', { u: consumables.u }),
  }
}

function sumOf(lines: readonly Priced[]): { value: number; u: number } {
  return {
    value: gasCostMinor(lines),
    u: Math.hypot(...lines.map((line) => (line.standardUncertainty ?? 0) * line.unitPriceMinor)),
  }
}

function labourOf(labour: WorkCostInput['labour']): { value: number; u: number } {
  if (!labour) return NOTHING
  const perHour = labour.perHourMinor * (labour.people ?? 1)
  return { value: labour.hours * perHour, u: (labour.standardUncertaintyHours ?? 0) * perHour }
}

function check(known: WorkCostInput): Refusal[] {
  const some = { min: 0 }
  const lines = (['gas', 'consumables'] as const).flatMap((part) =>
    (known[part] ?? []).flatMap((line, i) =>
      numberRefusals({
        [`${part}.${i}.quantity`]: [line.quantity, some],
        [`${part}.${i}.standardUncertainty`]: [line.standardUncertainty, some],
        [`${part}.${i}.unitPriceMinor`]: [line.unitPriceMinor, some],
      }),
    ),
  )
  return [
    ...lines,
    ...numberRefusals({
      'rent.cylinders': [known.rent?.cylinders, some],
      'rent.days': [known.rent?.days, some],
      'rent.perCylinderDayMinor': [known.rent?.perCylinderDayMinor, some],
      'labour.hours': [known.labour?.hours, some],
      'labour.standardUncertaintyHours': [known.labour?.standardUncertaintyHours, some],
      'labour.perHourMinor': [known.labour?.perHourMinor, some],
      'labour.people': [known.labour?.people, { min: 1, max: 100 }],
      cuts: [known.cuts, { above: 0 }],
      lengthM: [known.lengthM, { above: 0, unit: 'm' }],
    }),
  ]
}
