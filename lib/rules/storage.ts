import { finding, isAtLeast, isAtMost, type StoreFinding } from './finding'
import { STORE_RULES, type StoreRuleId } from './store-catalogue'

const IN_PER_FT = 12
const M_PER_FT = 0.3048

export interface Barrier {
  isNoncombustible: boolean
  /** Fire rating in minutes; 0 where it has none. Noncombustible is not rated. */
  ratingMin: number
  heightFt: number
  /** How far it reaches above and beside the cylinders; null where nobody measured. */
  aboveFt: number | null
  besideFt: number | null
}

export interface Separation {
  /** Between oxygen and fuel gas cylinders, feet; null where nobody measured. */
  distanceFt: number | null
  barrier: Barrier | null
  isInGasCabinets?: boolean
}

/** Half an hour and five feet, as OSHA words it for stores and manifolds alike. */
export function isRatedWall(barrier: Barrier | null, ruleId: WallRule): boolean {
  const { barrierHeightFt, barrierRatingMin } = STORE_RULES[ruleId].limits
  return (
    barrier?.isNoncombustible === true &&
    isAtLeast(barrier.heightFt, barrierHeightFt) &&
    isAtLeast(barrier.ratingMin, barrierRatingMin)
  )
}
type WallRule =
  | 'osha1910-oxygen-separation'
  | 'osha1926-oxygen-separation'
  | 'osha1910-fuel-manifold-3000'
  | 'osha1910-oxygen-manifold-6000'
  | 'osha1910-oxygen-manifold-20ft'

/** The fire code's partition: no rating, but it reaches past the cylinders above and beside. */
function isPartition(barrier: Barrier | null, overhangIn: number): boolean {
  const overhangFt = overhangIn / IN_PER_FT
  return (
    barrier?.isNoncombustible === true &&
    isAtLeast(barrier.aboveFt, overhangFt) &&
    isAtLeast(barrier.besideFt, overhangFt)
  )
}

/**
 * Oxygen and fuel gas in store: 20 ft, or the barrier of each text, which differ and are all to be met.
 *
 * @param separation feet; an unmeasured distance counts as none
 * @source 29 CFR 1910.253(b)(4)(iii), 1926.350(a)(10), IFC 5003.9.8; abroad from memory
 */
export function checkSeparation({ distanceFt, barrier, ...rest }: Separation): StoreFinding[] {
  const osha = (['osha1910-oxygen-separation', 'osha1926-oxygen-separation'] as const).map((id) => {
    const { distanceFt: leastFt, barrierHeightFt, barrierRatingMin } = STORE_RULES[id].limits
    const isOk = isAtLeast(distanceFt, leastFt) || isRatedWall(barrier, id)
    return finding('separation', id, isOk, { leastFt, barrierHeightFt, barrierRatingMin })
  })
  const { distanceFt: ifcFt, partitionOverhangIn } =
    STORE_RULES['ifc-separation-incompatible'].limits
  const isIfc =
    isAtLeast(distanceFt, ifcFt) ||
    isPartition(barrier, partitionOverhangIn) ||
    rest.isInGasCabinets === true
  const distanceM = distanceFt === null ? null : distanceFt * M_PER_FT
  const uk = STORE_RULES['uk-bcga-3m'].limits
  const isUk =
    isAtLeast(distanceM, uk.distanceM) ||
    (barrier !== null && isAtLeast(barrier.ratingMin, uk.barrierRatingMin))
  const au = STORE_RULES['au-as4332-3m'].limits
  return [
    ...osha,
    finding('separation', 'ifc-separation-incompatible', isIfc, {
      leastFt: ifcFt,
      partitionOverhangIn,
    }),
    finding('separation', 'uk-bcga-3m', isUk, { leastM: uk.distanceM }),
    finding('separation', 'au-as4332-3m', isAtLeast(distanceM, au.distanceM), {
      leastM: au.distanceM,
    }),
  ]
}

export interface CylinderRest {
  regulatorsFitted: boolean
  /** When gas is expected to be drawn next, hours; null when nobody expects to. */
  expectedUseWithinHours: number | null
  isSecuredToVehicleOrStructure?: boolean
}

/**
 * Whether a resting cylinder counts as stored: the same cart may be in use for one text and in
 * storage for the other.
 *
 * @source OSHA letters on 1910.253(b) and 1926.350(a)(10); WAC 296-307-48009(3)
 */
export function storageStatus(rest: CylinderRest): { ruleId: StoreRuleId; isStored: boolean }[] {
  const { noDrawExpectedHours } = STORE_RULES['osha1926-in-storage-24h'].limits
  return [
    { ruleId: 'osha1910-in-use-or-connected', isStored: !rest.regulatorsFitted },
    {
      ruleId: 'osha1926-in-storage-24h',
      isStored: !isAtMost(rest.expectedUseWithinHours, noDrawExpectedHours),
    },
    {
      ruleId: 'wa-in-use-overnight',
      isStored: !rest.regulatorsFitted && rest.isSecuredToVehicleOrStructure !== true,
    },
  ]
}

export interface Cart {
  oxygenCylinders: number
  fuelCylinders: number
  isConnectedToRegulators: boolean
  isSecured: boolean
  isKeptFromTheWork: boolean
  hasKeysOnStems: boolean
  areValvesClosedWhenIdle: boolean
}

/** May oxygen and fuel share a cart unseparated: the fire code's exception, and OSHA's policy, which is a judgement. */
export function checkCart(cart: Cart): StoreFinding[] {
  const { oxygenMax, fuelMax } = STORE_RULES['ifc-cart-exception'].limits
  const isPair = cart.oxygenCylinders <= oxygenMax && cart.fuelCylinders <= fuelMax
  const isKept =
    cart.isConnectedToRegulators &&
    cart.isSecured &&
    cart.isKeptFromTheWork &&
    cart.hasKeysOnStems &&
    cart.areValvesClosedWhenIdle
  return [
    finding('cart_pair', 'ifc-cart-exception', isPair && isKept, { oxygenMax, fuelMax }),
    {
      code: 'cart_pair',
      ruleId: 'osha1926-single-pair-cart',
      // The rest of the letter's conditions was not read, so a person answers.
      verdict: isPair ? 'judgement' : 'not_ok',
      params: { oxygenMax, acetyleneMax: fuelMax },
    },
  ]
}

export interface StorePlace {
  isIndoors: boolean
  isVentilated: boolean
  isDry: boolean
  isLocker: boolean
  isAwayFromHeatAndExits: boolean
  isSafeFromTampering: boolean
  /** To oil, grease and other highly combustible matter, feet. */
  highlyCombustibleFt: number | null
  /** To waste and vegetation that burn, feet; outdoors. */
  vegetationFt: number | null
  noSmokingSignsWithinFt: number | null
  /** How far a cylinder could fall, as a part of its height; 0 on a level floor. */
  dropPartOfHeight: number
  hottestF: number | null
  holdsFuelGas: boolean
}

function indoorFindings(place: StorePlace): StoreFinding[] {
  const isFit =
    place.isVentilated &&
    place.isDry &&
    !place.isLocker &&
    place.isAwayFromHeatAndExits &&
    place.isSafeFromTampering
  return (['osha1910-indoor-general', 'osha1926-indoor-general'] as const).flatMap((id) => {
    const leastFt = STORE_RULES[id].limits.distanceCombustibleFt
    return [
      finding('indoor_place', id, isFit),
      finding('indoor_combustibles', id, isAtLeast(place.highlyCombustibleFt, leastFt), {
        leastFt,
      }),
    ]
  })
}

/** The place itself: inside ventilated, dry and clear; outside clear of what burns; no drop, no heat, no smoking. */
export function checkPlace(place: StorePlace): StoreFinding[] {
  const vegetation = STORE_RULES['ifc-vegetation-10ft'].limits.distanceFt
  const signs = STORE_RULES['ifc-no-smoking-25ft'].limits.distanceFt
  const drop = STORE_RULES['ifc-drop-half-height'].limits.fallFraction
  const hottest = STORE_RULES['ifc-temperature-125'].limits.tempMaxF
  return [
    ...(place.isIndoors ? indoorFindings(place) : []),
    ...(place.isIndoors
      ? []
      : [
          finding('vegetation', 'ifc-vegetation-10ft', isAtLeast(place.vegetationFt, vegetation), {
            leastFt: vegetation,
          }),
        ]),
    ...(place.holdsFuelGas
      ? [
          finding(
            'no_smoking',
            'ifc-no-smoking-25ft',
            isAtMost(place.noSmokingSignsWithinFt, signs),
            {
              mostFt: signs,
            },
          ),
        ]
      : []),
    finding('drop', 'ifc-drop-half-height', place.dropPartOfHeight <= drop, { mostPart: drop }),
    finding(
      'temperature',
      'ifc-temperature-125',
      place.hottestF === null || place.hottestF <= hottest,
      {
        mostF: hottest,
      },
    ),
  ]
}
