import { finding, isAtLeast, isAtMost, type StoreFinding } from './finding'
import { type Barrier, isRatedWall } from './storage'
import { STORE_RULES, type StoreRuleId } from './store-catalogue'

export type GasKind = 'flammable' | 'oxidizing' | 'inert'

export interface CountedCylinders {
  nominalFt3: number
  /** A part left, or residual gas, counts as full; only a purged cylinder holds nothing. */
  state: 'full' | 'part' | 'empty' | 'purged'
  count: number
}

/** Gas at NTP as the fire code counts it: empties as full unless purged (IFC 5301.1). Cubic feet. */
export function countedFt3(cylinders: readonly CountedCylinders[]): number {
  return cylinders
    .filter((one) => one.state !== 'purged')
    .reduce((sum, one) => sum + one.nominalFt3 * one.count, 0)
}

export interface ControlArea {
  gas: GasKind
  isOutdoors?: boolean
  isSprinklered: boolean
  isInGasCabinets: boolean
}

/**
 * The most of one gas in a control area, storage and use together; null where the table sets none.
 * Sprinklers double it, cabinets double it again: the two multiply.
 *
 * @returns cubic feet at NTP, and the rules it comes from
 * @source IFC Tables 5003.1.1(1) and (3)
 */
export function controlAreaLimit(area: ControlArea): {
  maqFt3: number | null
  ruleIds: readonly StoreRuleId[]
} {
  if (area.gas === 'inert') return { maqFt3: null, ruleIds: ['ifc-maq-inert-unlimited'] }
  if (area.isOutdoors) {
    const { flammableFt3, oxidizingFt3 } = STORE_RULES['ifc-maq-outdoor'].limits
    const maqFt3 = area.gas === 'flammable' ? flammableFt3 : oxidizingFt3
    return { maqFt3, ruleIds: ['ifc-maq-outdoor'] }
  }
  const ruleId = area.gas === 'flammable' ? 'ifc-maq-flammable-gas' : 'ifc-maq-oxidizing-gas'
  const { maqFt3, sprinklerMultiplier, cabinetMultiplier } = STORE_RULES[ruleId].limits
  const times =
    (area.isSprinklered ? sprinklerMultiplier : 1) * (area.isInGasCabinets ? cabinetMultiplier : 1)
  const isDoubled = area.isSprinklered || area.isInGasCabinets
  return {
    maqFt3: maqFt3 * times,
    ruleIds: isDoubled ? [ruleId, 'ifc-maq-multipliers'] : [ruleId],
  }
}

/** The amount of one gas in a control area against its most, and whether the fire official's permit is needed. */
export function checkAmount(area: ControlArea, quantityFt3: number): StoreFinding[] {
  const { maqFt3, ruleIds } = controlAreaLimit(area)
  const ruleId = ruleIds[0] ?? 'ifc-maq-inert-unlimited'
  return [
    finding('control_area', ruleId, maqFt3 === null || isAtMost(quantityFt3, maqFt3), {
      quantityFt3,
      ...(maqFt3 === null ? {} : { mostFt3: maqFt3 }),
    }),
    finding(
      'operational_permit',
      'ifc-permit-thresholds-gas',
      !needsOperationalPermit(area.gas, quantityFt3),
      {
        quantityFt3,
        mostFt3: permitThresholdFt3(area.gas),
      },
    ),
  ]
}

function permitThresholdFt3(gas: GasKind): number {
  const { flammableFt3, oxidizingFt3, inertFt3 } = STORE_RULES['ifc-permit-thresholds-gas'].limits
  return { flammable: flammableFt3, oxidizing: oxidizingFt3, inert: inertFt3 }[gas]
}

/** Whether that much gas on the site needs the fire official's operational permit (IFC Table 105.6.8). */
export function needsOperationalPermit(gas: GasKind, quantityFt3: number): boolean {
  return !isAtMost(quantityFt3, permitThresholdFt3(gas))
}

export interface FuelIndoors {
  /** In store; cylinders in use or attached ready for use are left out. */
  fuelGasStoredFt3: number
  /** Stored LP-gas by weight, empties kept indoors as full. */
  lpgLb: number
}

/** Fuel gas stored inside a building: a separate room above 2,000 cu ft or 300 lb; in construction no LP-gas at all. */
export function checkFuelIndoors({ fuelGasStoredFt3, lpgLb }: FuelIndoors): StoreFinding[] {
  const { fuelGasMaxFt3, lpgMaxLb } = STORE_RULES['osha1910-fuel-indoor-2000'].limits
  const { lpgLb: nfpaLb } = STORE_RULES['nfpa58-indoor-300lb'].limits
  const isWithin = isAtMost(fuelGasStoredFt3, fuelGasMaxFt3) && isAtMost(lpgLb, lpgMaxLb)
  return [
    finding('separate_room', 'osha1910-fuel-indoor-2000', isWithin, {
      storedFt3: fuelGasStoredFt3,
      storedLb: lpgLb,
      mostFt3: fuelGasMaxFt3,
      mostLb: lpgMaxLb,
    }),
    finding('lpg_indoors', 'osha1926-lpg-no-indoor-storage', lpgLb === 0, {
      storedLb: lpgLb,
      mostLb: 0,
    }),
    finding('lpg_indoors', 'nfpa58-indoor-300lb', isAtMost(lpgLb, nfpaLb), {
      storedLb: lpgLb,
      mostLb: nfpaLb,
    }),
  ]
}

export interface LpgOutdoors {
  lpgLb: number
  buildingFt: number | null
  doorFt: number | null
  hasSingleExit: boolean
  combustiblesFt: number | null
  dispensersFt: number | null
  extinguisherRatingB: number
}

function constructionLpgFt(lpgLb: number): number {
  const { le500lbFt, le6000lbFt, le10000lbFt, gt10000lbFt } =
    STORE_RULES['osha1926-lpg-outdoor-distance'].limits
  if (lpgLb <= 500) return le500lbFt
  if (lpgLb <= 6000) return le6000lbFt
  return lpgLb <= 10_000 ? le10000lbFt : gt10000lbFt
}

/** LP-gas outside: its distance from buildings, doors, what burns and dispensers, and the extinguisher. */
export function checkLpgOutdoors(store: LpgOutdoors): StoreFinding[] {
  const buildingFt = constructionLpgFt(store.lpgLb)
  const nfpa = STORE_RULES['nfpa58-outdoor-720lb'].limits
  const doorFt = store.hasSingleExit ? nfpa.doorSingleExitFt : nfpa.doorFt
  const isClear =
    isAtLeast(store.doorFt, doorFt) &&
    isAtLeast(store.combustiblesFt, nfpa.combustiblesFt) &&
    (store.dispensersFt === null || store.dispensersFt >= nfpa.dispensersFt)
  const { ratingB } = STORE_RULES['osha1926-lpg-extinguisher'].limits
  return [
    finding(
      'lpg_building',
      'osha1926-lpg-outdoor-distance',
      buildingFt === 0 || isAtLeast(store.buildingFt, buildingFt),
      { leastFt: buildingFt },
    ),
    // Above the threshold a table that was not read sets the distances.
    store.lpgLb > nfpa.thresholdLb
      ? {
          code: 'lpg_by_table',
          ruleId: 'nfpa58-outdoor-720lb',
          verdict: 'judgement',
          params: { mostLb: nfpa.thresholdLb },
        }
      : finding('lpg_outdoors', 'nfpa58-outdoor-720lb', isClear, {
          doorFt,
          combustiblesFt: nfpa.combustiblesFt,
          dispensersFt: nfpa.dispensersFt,
        }),
    finding(
      'lpg_extinguisher',
      'osha1926-lpg-extinguisher',
      isAtLeast(store.extinguisherRatingB, ratingB),
      { leastB: ratingB },
    ),
  ]
}

export type OccupancyUse = 'assembly_school_care_home_office' | 'other'

/** Gas stays out of assembly, school, care, home and office occupancies, single small cylinders aside. */
export function checkOccupancy(
  use: OccupancyUse,
  gas: GasKind,
  largest: { ft3: number; liquefiedLb: number },
): StoreFinding[] {
  if (use === 'other' || gas === 'inert') return []
  const id = gas === 'flammable' ? 'ifc-occupancy-ban-flammable' : 'ifc-occupancy-ban-oxidizing'
  const { cylinderMaxFt3, liquefiedMaxLb } = STORE_RULES[id].limits
  const isSmall =
    isAtMost(largest.ft3, cylinderMaxFt3) && isAtMost(largest.liquefiedLb, liquefiedMaxLb)
  return [finding('occupancy', id, isSmall, { mostFt3: cylinderMaxFt3, mostLb: liquefiedMaxLb })]
}

export interface Manifold {
  gas: 'fuel' | 'oxygen'
  connectedFt3: number
  lpgLb?: number
  /** Service pressure; null counts as high. */
  servicePsig?: number | null
  /** To the next manifold in the room; absent where there is none. */
  nextManifoldFt?: number | null
  /** Of an oxygen manifold to fuel gas cylinders and what burns. */
  fuelOrCombustiblesFt?: number | null
  barrier?: Barrier | null
}

function spacing(manifold: Manifold, id: ManifoldRule): StoreFinding[] {
  if (manifold.nextManifoldFt === undefined) return []
  const { manifoldSpacingFt } = STORE_RULES[id].limits
  const isApart =
    isAtLeast(manifold.nextManifoldFt, manifoldSpacingFt) ||
    isRatedWall(manifold.barrier ?? null, id)
  return [finding('manifold_spacing', id, isApart, { leastFt: manifoldSpacingFt })]
}
type ManifoldRule = 'osha1910-fuel-manifold-3000' | 'osha1910-oxygen-manifold-6000'

function oxygenManifold(manifold: Manifold): StoreFinding[] {
  const { connectedFt3 } = manifold
  const { oxygenMaxFt3, pressureMaxPsig } = STORE_RULES['osha1910-low-pressure-oxygen-12000'].limits
  const isLow = isAtMost(manifold.servicePsig ?? null, pressureMaxPsig)
  const highFt3 = STORE_RULES['osha1910-oxygen-manifold-6000'].limits.oxygenMaxFt3
  const bulk = STORE_RULES['osha1910-bulk-oxygen-threshold'].limits.connectedFt3
  const near = STORE_RULES['osha1910-oxygen-manifold-20ft'].limits.distanceFt
  const amount = isLow
    ? finding(
        'manifold_indoors',
        'osha1910-low-pressure-oxygen-12000',
        isAtMost(connectedFt3, oxygenMaxFt3),
        {
          mostFt3: oxygenMaxFt3,
        },
      )
    : finding(
        'manifold_indoors',
        'osha1910-oxygen-manifold-6000',
        isAtMost(connectedFt3, highFt3),
        {
          mostFt3: highFt3,
        },
      )
  const isClear =
    isAtLeast(manifold.fuelOrCombustiblesFt ?? null, near) ||
    isRatedWall(manifold.barrier ?? null, 'osha1910-oxygen-manifold-20ft')
  return [
    amount,
    finding('bulk_oxygen', 'osha1910-bulk-oxygen-threshold', isAtMost(connectedFt3, bulk), {
      mostFt3: bulk,
    }),
    ...(manifold.fuelOrCombustiblesFt === undefined
      ? []
      : [finding('manifold_clear', 'osha1910-oxygen-manifold-20ft', isClear, { leastFt: near })]),
    ...spacing(manifold, 'osha1910-oxygen-manifold-6000'),
  ]
}

/**
 * A manifold in a general room: what may hang on it, how far it stands from the next and from fuel.
 *
 * @source 29 CFR 1910.253(c); the fuel side's LP-gas and spacing numbers from memory
 */
export function checkManifold(manifold: Manifold): StoreFinding[] {
  if (manifold.gas === 'oxygen') return oxygenManifold(manifold)
  const { fuelGasMaxFt3, lpgMaxLb } = STORE_RULES['osha1910-fuel-manifold-3000'].limits
  const isWithin =
    isAtMost(manifold.connectedFt3, fuelGasMaxFt3) && isAtMost(manifold.lpgLb ?? 0, lpgMaxLb)
  return [
    finding('manifold_indoors', 'osha1910-fuel-manifold-3000', isWithin, {
      mostFt3: fuelGasMaxFt3,
      mostLb: lpgMaxLb,
    }),
    ...spacing(manifold, 'osha1910-fuel-manifold-3000'),
  ]
}
