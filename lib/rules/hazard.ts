import type { CylinderGasCode } from '../calc/gas-data'

/** Division 2.1; 2.2 with the subsidiary hazard 5.1, which feeds a fire; 2.2 alone. */
const HAZARDS = ['flammable', 'oxidizing', 'inert'] as const
type Hazard = (typeof HAZARDS)[number]

type HazardousGas = Readonly<{ un: number; hazard: Hazard }>

/**
 * The number and the division of each gas as it is shipped in cylinders: acetylene dissolved, the others
 * compressed or liquefied.
 *
 * @source 49 CFR 172.101, the hazardous materials table, from memory
 */
export const HAZARD_OF_GAS: Readonly<Record<CylinderGasCode, HazardousGas>> = {
  oxygen: { un: 1072, hazard: 'oxidizing' },
  acetylene: { un: 1001, hazard: 'flammable' },
  propane: { un: 1978, hazard: 'flammable' },
  natural_gas: { un: 1971, hazard: 'flammable' },
  propylene: { un: 1077, hazard: 'flammable' },
  mps: { un: 1060, hazard: 'flammable' },
  argon: { un: 1006, hazard: 'inert' },
  nitrogen: { un: 1066, hazard: 'inert' },
  carbon_dioxide: { un: 1013, hazard: 'inert' },
}

export type HazardTotal<Body extends string> = Readonly<{
  hazard: Hazard
  body: Body
  /** Gases of it, by their numbers, lowest first. */
  un: readonly number[]
  cylinders: number
  grossLb: number
}>

/**
 * What rides of each kind of hazard in each body, gross weight with steel; empties count as fulls, as they
 * do on the road until they are purged.
 *
 * @source sums by `HAZARD_OF_GAS`; 49 CFR 173.29 for empties, from memory
 */
export function hazardTotals<Body extends string>(
  load: readonly Readonly<{ gasId: CylinderGasCode; body: Body; grossLb: number }>[],
): HazardTotal<Body>[] {
  const bodies = [...new Set(load.map((one) => one.body))]
  return HAZARDS.flatMap((hazard) =>
    bodies.flatMap((body) => {
      const own = load.filter(
        (one) => one.body === body && HAZARD_OF_GAS[one.gasId].hazard === hazard,
      )
      const un = [...new Set(own.map((one) => HAZARD_OF_GAS[one.gasId].un))].toSorted(
        (a, b) => a - b,
      )
      const grossLb = own.reduce((sum, one) => sum + one.grossLb, 0)
      return own.length === 0 ? [] : [{ hazard, body, un, cylinders: own.length, grossLb }]
    }),
  )
}
