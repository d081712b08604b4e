import { finding, isAtLeast, isAtMost, type StoreFinding } from './finding'
import { STORE_RULES } from './store-catalogue'

export interface TradeLoad {
  carrier: 'private' | 'for_hire'
  purpose:
    | 'supports_principal_business'
    | 'protects_people'
    | 'runs_the_vehicle'
    | 'delivery_of_goods'
  /** Gross weight of each cylinder, steel included, pounds. */
  cylindersGrossLb: readonly number[]
  /** Other materials of trade on the same vehicle, gross pounds. */
  otherGrossLb: number
}

const OWN_PURPOSES: readonly TradeLoad['purpose'][] = [
  'supports_principal_business',
  'protects_people',
  'runs_the_vehicle',
]

/**
 * Whether a load rides as materials of trade, without shipping paper and placards: every cylinder
 * to 220 lb gross, 440 lb on the vehicle, in one's own work and never for delivery.
 *
 * @returns the verdict with its findings; pounds gross
 * @source 49 CFR 173.6, 171.8; the vehicle's total and the purpose from memory
 */
export function materialsOfTrade(load: TradeLoad): {
  isMaterialOfTrade: boolean
  needsShippingPaper: boolean
  aggregateLb: number
  findings: readonly StoreFinding[]
} {
  const { grossWeightMaxLb } = STORE_RULES['dot-mot-cylinder-220'].limits
  const { aggregateMaxLb } = STORE_RULES['dot-mot-aggregate-440'].limits
  const aggregateLb = load.cylindersGrossLb.reduce((sum, one) => sum + one, load.otherGrossLb)
  const heaviestLb = Math.max(0, ...load.cylindersGrossLb)
  const isOwn = load.carrier === 'private' && OWN_PURPOSES.includes(load.purpose)
  const findings = [
    finding('cylinder_gross', 'dot-mot-cylinder-220', isAtMost(heaviestLb, grossWeightMaxLb), {
      heaviestLb,
      mostLb: grossWeightMaxLb,
    }),
    finding('vehicle_gross', 'dot-mot-aggregate-440', isAtMost(aggregateLb, aggregateMaxLb), {
      aggregateLb,
      mostLb: aggregateMaxLb,
    }),
    finding('purpose', 'dot-mot-purpose', isOwn),
  ]
  const isMaterialOfTrade = findings.every((one) => one.verdict === 'ok')
  return { isMaterialOfTrade, needsShippingPaper: !isMaterialOfTrade, aggregateLb, findings }
}

export interface TradeConditions {
  areMarkedAndInDate: boolean
  areSecured: boolean
  areValvesClosed: boolean
  isDriverTold: boolean
}

/** What a load of materials of trade still owes: marks, lashing, closed valves, a driver who knows. */
export function tradeConditions(met: TradeConditions): StoreFinding[] {
  return (['areMarkedAndInDate', 'areSecured', 'areValvesClosed', 'isDriverTold'] as const).map(
    (name) => finding(name, 'dot-mot-conditions', met[name]),
  )
}

/**
 * Which bodies need placards: each cargo-carrying body counts alone, truck and trailer apart.
 *
 * @param table2GrossLb gross pounds of Table 2 materials in each body, materials of trade left out
 */
export function placards(table2GrossLb: readonly number[]): boolean[] {
  const { aggregateGrossLb } = STORE_RULES['dot-placard-1001'].limits
  return table2GrossLb.map((lb) => !Number.isFinite(lb) || lb >= aggregateGrossLb)
}

export interface Ride {
  gas: 'oxygen' | 'acetylene' | 'lpg' | 'other_fuel' | 'inert'
  orientation: 'upright' | 'horizontal'
  isSecured: boolean
  isValveProtected: boolean
  /** The supplier states that the relief device opens to the vapour space lying down. */
  doesReliefMeetVapourLying?: boolean
}

/** How a cylinder rides: the road rules let oxygen lie, construction does not, and fuel gas rides upright. */
export function checkRide(ride: Ride): StoreFinding[] {
  const isUp = ride.orientation === 'upright'
  const isFlammable = ride.gas !== 'oxygen' && ride.gas !== 'inert'
  return [
    finding('restrained', 'dot-load-cylinders', ride.isSecured),
    ...(isFlammable
      ? [
          finding(
            'relief_to_vapour',
            'dot-relief-device-vapor-21',
            isUp || ride.doesReliefMeetVapourLying === true,
          ),
        ]
      : []),
    finding('valve_protected', 'dot-valve-protection', ride.isValveProtected),
    finding('upright', 'osha1926-upright-always', isUp && ride.isSecured),
  ]
}

export interface Emptied {
  isPurged: boolean
  isFlammable: boolean
  /** Absolute pressure left; null where nobody knows. */
  residualKpaAbs: number | null
}

/** Whether an emptied cylinder still counts as hazardous on the road: yes, unless purged or nearly unpressured 2.2 (49 CFR 173.29, from memory). */
export function isEmptyHazmat({ isPurged, isFlammable, residualKpaAbs }: Emptied): boolean {
  const { residual22LimitKpaAbs } = STORE_RULES['dot-empty-still-hazmat'].limits
  if (isPurged) return false
  return isFlammable || !isAtMost(residualKpaAbs, residual22LimitKpaAbs)
}

export interface AdrItem {
  /** 2: flammable gas, kilograms or litres; 3: oxygen and gases that do not burn. */
  category: 2 | 3
  quantity: number
}

/** Points of a small load under ADR 1.1.3.6, whose figures are from memory; not over 1,000 is a small load. */
export function adrPoints(items: readonly AdrItem[]): { points: number; isSmallLoad: boolean } {
  const { factor2, factor3, total } = STORE_RULES['adr-small-load'].limits
  const points = items.reduce(
    (sum, item) => sum + item.quantity * (item.category === 2 ? factor2 : factor3),
    0,
  )
  return { points, isSmallLoad: isAtMost(points, total) }
}

export interface AdrDuties {
  isDriverTrainedAndRecorded: boolean
  extinguisherKg: number
  isStowed: boolean
  isVentilatedOrMarked: boolean
}

/** What a small load under ADR still owes. */
export function checkAdrDuties(duties: AdrDuties): StoreFinding[] {
  const { extinguisherKg } = STORE_RULES['adr-small-load-duties'].limits
  const id = 'adr-small-load-duties'
  return [
    finding('driver_trained', id, duties.isDriverTrainedAndRecorded),
    finding('extinguisher', id, isAtLeast(duties.extinguisherKg, extinguisherKg), {
      leastKg: extinguisherKg,
    }),
    finding('stowed', id, duties.isStowed),
    finding('ventilated_or_marked', id, duties.isVentilatedOrMarked),
  ]
}
