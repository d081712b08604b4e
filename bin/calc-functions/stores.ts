import {
  checkAmount,
  checkFuelIndoors,
  checkLpgOutdoors,
  checkManifold,
  controlAreaLimit,
} from '../../lib/rules/amounts'
import { checkStanding } from '../../lib/rules/handling'
import { checkRack } from '../../lib/rules/rack'
import { requalification } from '../../lib/rules/requalification'
import { lensShade } from '../../lib/rules/shade'
import { checkCart, checkPlace, checkSeparation, storageStatus } from '../../lib/rules/storage'
import {
  adrPoints,
  checkAdrDuties,
  checkRide,
  isEmptyHazmat,
  materialsOfTrade,
  placards,
  tradeConditions,
} from '../../lib/rules/transport'
import {
  adrSchema,
  cartSchema,
  controlAreaSchema,
  emptiedSchema,
  fuelIndoorsSchema,
  lpgOutdoorsSchema,
  marksSchema,
  placardsSchema,
  placeSchema,
  rackSchema,
  restSchema,
  rideSchema,
  roomManifoldSchema,
  separationSchema,
  shadeSchema,
  standingSchema,
  tradeConditionsSchema,
  tradeLoadSchema,
} from '../../lib/schemas/store-input'
import { type CalcFunctions, calcFunction } from './calc-function'

/** The checks of stores, loads, requalification and lenses; each finding names its rule. */
export const STORE_FUNCTIONS: CalcFunctions = {
  'store-rack': calcFunction(
    'A rack or control area: amounts, fuel indoors, oxygen apart from fuel',
    rackSchema,
    (rack) => ({ findings: checkRack(rack) }),
  ),
  'store-control-area': calcFunction(
    'The most of one gas in a control area, and whether this is more',
    controlAreaSchema,
    ({ area, quantityFt3 }) => ({
      ...controlAreaLimit(area),
      findings: checkAmount(area, quantityFt3),
    }),
  ),
  'store-separation': calcFunction(
    'Oxygen and fuel gas in store: distance, or the barrier of each text',
    separationSchema,
    (separation) => ({ findings: checkSeparation(separation) }),
  ),
  'store-status': calcFunction(
    'Whether a resting cylinder counts as stored, by each text',
    restSchema,
    (rest) => ({ texts: storageStatus(rest) }),
  ),
  'store-cart': calcFunction(
    'Whether oxygen and fuel may share a cart unseparated',
    cartSchema,
    (cart) => ({ findings: checkCart(cart) }),
  ),
  'store-place': calcFunction(
    'Whether a place is fit to keep cylinders, inside or out',
    placeSchema,
    (place) => ({ findings: checkPlace(place) }),
  ),
  'store-fuel-indoors': calcFunction(
    'Fuel gas kept inside a building against the separate room',
    fuelIndoorsSchema,
    (fuel) => ({ findings: checkFuelIndoors(fuel) }),
  ),
  'store-lpg-outdoors': calcFunction(
    'LP-gas kept outside: distances and the extinguisher',
    lpgOutdoorsSchema,
    (store) => ({ findings: checkLpgOutdoors(store) }),
  ),
  'store-manifold': calcFunction(
    'What may hang on a manifold in a general room, and where it stands',
    roomManifoldSchema,
    (manifold) => ({ findings: checkManifold(manifold) }),
  ),
  'store-standing': calcFunction(
    'One cylinder as it stands: upright, secured, capped, valve shut',
    standingSchema,
    (cylinder) => ({ findings: checkStanding(cylinder) }),
  ),
  'road-materials-of-trade': calcFunction(
    'Whether a load rides without shipping paper, as materials of trade',
    tradeLoadSchema,
    materialsOfTrade,
  ),
  'road-trade-conditions': calcFunction(
    'What a load of materials of trade still owes',
    tradeConditionsSchema,
    (met) => ({ findings: tradeConditions(met) }),
  ),
  'road-placards': calcFunction(
    'Which cargo bodies need placards, each counted alone',
    placardsSchema,
    ({ table2GrossLb }) => ({ bodies: placards(table2GrossLb) }),
  ),
  'road-ride': calcFunction(
    'How a cylinder rides: restrained, upright, its relief device in vapor',
    rideSchema,
    (ride) => ({ findings: checkRide(ride) }),
  ),
  'road-empty': calcFunction(
    'Whether an emptied cylinder is still hazardous material on the road',
    emptiedSchema,
    (emptied) => ({ isHazmat: isEmptyHazmat(emptied) }),
  ),
  'road-adr': calcFunction(
    'Points of a small load under ADR, and what it still owes',
    adrSchema,
    ({ items, duties }) => ({ ...adrPoints(items), findings: checkAdrDuties(duties) }),
  ),
  requalification: calcFunction(
    'When a cylinder is due, and whether it may be filled or used up',
    marksSchema,
    requalification,
  ),
  'lens-shade': calcFunction(
    'The lightest lens for the work, and the guide range',
    shadeSchema,
    lensShade,
  ),
}
