import {
  type ControlArea,
  checkAmount,
  checkFuelIndoors,
  checkOccupancy,
  countedFt3,
  type GasKind,
  type OccupancyUse,
} from './amounts'
import type { StoreFinding } from './finding'
import { checkSeparation, type Separation } from './storage'

export interface RackCylinders {
  kind: GasKind
  isLpg: boolean
  /** Gas of one full cylinder at NTP, cubic feet; 0 for LP-gas, which counts by weight. */
  nominalFt3: number
  /** LP-gas of one full cylinder, pounds; 0 for the rest. */
  lpgLb: number
  state: 'full' | 'part' | 'empty' | 'purged'
  /** In use or attached ready for use. */
  isConnected: boolean
  count: number
}

export interface Rack {
  isIndoors: boolean
  isSprinklered: boolean
  isInGasCabinets: boolean
  occupancy: OccupancyUse
  cylinders: readonly RackCylinders[]
  /** Between the oxygen and the fuel of this rack or the next; null where nobody measured. */
  separation: Separation | null
}

const KINDS = ['flammable', 'oxidizing', 'inert'] as const

function amounts(rack: Rack, kind: GasKind): StoreFinding[] {
  const own = rack.cylinders.filter((one) => one.kind === kind && !one.isLpg)
  if (own.length === 0) return []
  const area: ControlArea = {
    gas: kind,
    isOutdoors: !rack.isIndoors,
    isSprinklered: rack.isSprinklered,
    isInGasCabinets: rack.isInGasCabinets,
  }
  const largest = { ft3: Math.max(...own.map((one) => one.nominalFt3)), liquefiedLb: 0 }
  return [
    ...checkAmount(area, countedFt3(own)),
    ...(rack.isIndoors ? checkOccupancy(rack.occupancy, kind, largest) : []),
  ]
}

/**
 * A rack or control area as a whole: each gas against its most, empties counted as full, fuel
 * inside against the separate room, and oxygen apart from fuel where both are there.
 *
 * @param rack cubic feet at NTP and pounds; the unmeasured counts as not met
 * @returns every finding of every text; `findingsInForce` keeps those of a site
 */
export function checkRack(rack: Rack): StoreFinding[] {
  const stored = rack.cylinders.filter((one) => !one.isConnected)
  const fuelStoredFt3 = countedFt3(stored.filter((one) => one.kind === 'flammable' && !one.isLpg))
  const lpgLb = stored
    .filter((one) => one.isLpg && one.state !== 'purged')
    .reduce((sum, one) => sum + one.lpgLb * one.count, 0)
  const has = (kind: GasKind) => stored.some((one) => one.kind === kind && one.count > 0)
  const isMixed = has('flammable') && has('oxidizing')
  return [
    ...KINDS.flatMap((kind) => amounts(rack, kind)),
    ...(rack.isIndoors && has('flammable')
      ? checkFuelIndoors({ fuelGasStoredFt3: fuelStoredFt3, lpgLb })
      : []),
    ...(isMixed ? checkSeparation(rack.separation ?? { distanceFt: null, barrier: null }) : []),
  ]
}
