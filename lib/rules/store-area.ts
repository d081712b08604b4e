import { checkAmount, checkFuelIndoors, countedFt3 } from './amounts'
import type { StoreFinding } from './finding'
import { checkSeparation } from './storage'
import { placeFindings, type StoreAnswers } from './store-answers'

/** Cylinders of one size and state that stand in an area. */
export type StandingLot = Readonly<{
  gasId: string
  /** Full contents of one, cubic feet at 70 °F and 1 atm. */
  nominalFt3: number
  /** Full contents of one, pounds. */
  nominalLb: number
  status: string
  count: number
}>

export type StoreAreaFacts = Readonly<{ isIndoors: boolean; isSprinklered: boolean }>

const FUEL_BY_VOLUME: ReadonlySet<string> = new Set(['acetylene', 'natural_gas'])
/** Sold by weight as LP-gas; MPS gas is stored as LP-gas too (common practice, no source). */
const LP_GASES: ReadonlySet<string> = new Set(['propane', 'propylene', 'mps'])

const volumeOf = (lots: readonly StandingLot[]) =>
  countedFt3(
    lots.map(({ nominalFt3, count, status }) => ({
      nominalFt3,
      count,
      // Whatever is left counts as full until somebody purged it, which no record says.
      state: status === 'empty' ? 'empty' : 'full',
    })),
  )

/** Who has the fire official's permit needs no other. */
const withPermit = (findings: readonly StoreFinding[], permitNo: string | null) =>
  permitNo === null ? findings : findings.filter((one) => one.code !== 'operational_permit')

/**
 * What stands in an area against what the texts allow there. Where oxygen and fuel gas stand and nobody
 * measured what parts them, the separation is not met until somebody has.
 *
 * @source by `checkAmount`, `checkFuelIndoors`, `checkSeparation` and `placeFindings`, each with its own
 */
export function storeAreaFindings(
  { isIndoors, isSprinklered }: StoreAreaFacts,
  lots: readonly StandingLot[],
  answers: StoreAnswers | null = null,
): StoreFinding[] {
  const isInGasCabinets = answers?.isInGasCabinets ?? false
  const place = { isOutdoors: !isIndoors, isSprinklered, isInGasCabinets }
  const oxygen = lots.filter((lot) => lot.gasId === 'oxygen')
  const fuel = lots.filter((lot) => FUEL_BY_VOLUME.has(lot.gasId))
  const lpg = lots.filter((lot) => LP_GASES.has(lot.gasId))
  const isStored = (lot: StandingLot) => lot.status !== 'in_use'
  const stored = { oxygen: oxygen.some(isStored), fuel: [...fuel, ...lpg].some(isStored) }
  const lpgLb = lpg.filter(isStored).reduce((sum, lot) => sum + lot.nominalLb * lot.count, 0)
  const amounts = [
    ...(oxygen.length > 0 ? checkAmount({ gas: 'oxidizing', ...place }, volumeOf(oxygen)) : []),
    ...(fuel.length > 0 ? checkAmount({ gas: 'flammable', ...place }, volumeOf(fuel)) : []),
  ]
  return [
    ...withPermit(amounts, answers?.firePermitNo ?? null),
    ...(isIndoors && stored.fuel
      ? checkFuelIndoors({ fuelGasStoredFt3: volumeOf(fuel.filter(isStored)), lpgLb })
      : []),
    ...(stored.oxygen && stored.fuel
      ? checkSeparation({
          distanceFt: answers?.oxygenFuelFt ?? null,
          barrier: answers?.barrier ?? null,
          isInGasCabinets,
        })
      : []),
    ...(answers && (stored.oxygen || stored.fuel)
      ? placeFindings(answers, { isIndoors, holdsFuelGas: stored.fuel, lpgLb })
      : []),
  ]
}
