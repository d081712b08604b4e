// Heat of fuel gases and what their flame gives in its inner cone.
// Source: net heats from enthalpies of formation, Active Thermochemical Tables 1.112, computed (read); molar masses as
// the equations of state have them. Primary-flame heats computed from the same enthalpies for burning to CO and H2.
// MPS-type gas is a mixture: net heat of pure propyne within 5 %, from memory.
import type { FuelCode } from '../gas-data'
import type { Provenance } from '../source'

export const FLAME_HEAT_ID = 'flame-heat'

type Row = Readonly<{
  /** Heat of complete burning with the water as vapour, MJ/kg. */
  netMjPerKg: number
  relativeUncertainty: number
  /** Share of that given in the inner cone, where carbon burns to CO and hydrogen is set free, Btu/ft³ at 60 °F. */
  primaryBtuPerFt3At60F: number
  /** Gross heat at 60 °F, Btu/ft³. */
  grossBtuPerFt3At60F: number
  provenance: Provenance
}>

export const FLAME_HEAT: Readonly<Record<FuelCode, Row>> = {
  acetylene: {
    netMjPerKg: 1257.1 / 26.037,
    relativeUncertainty: 0.002,
    primaryBtuPerFt3At60F: 509,
    grossBtuPerFt3At60F: 1474,
    provenance: 'read',
  },
  propane: {
    netMjPerKg: 2043.3 / 44.0956,
    relativeUncertainty: 0.01,
    primaryBtuPerFt3At60F: 257,
    grossBtuPerFt3At60F: 2514,
    provenance: 'read',
  },
  natural_gas: {
    netMjPerKg: 802.6 / 16.0428,
    relativeUncertainty: 0.05,
    primaryBtuPerFt3At60F: 41,
    grossBtuPerFt3At60F: 1009,
    provenance: 'read',
  },
  propylene: {
    netMjPerKg: 1926.3 / 42.0797,
    relativeUncertainty: 0.01,
    primaryBtuPerFt3At60F: 399,
    grossBtuPerFt3At60F: 2332,
    provenance: 'read',
  },
  mps: {
    netMjPerKg: 46.2,
    relativeUncertainty: 0.05,
    primaryBtuPerFt3At60F: 588,
    grossBtuPerFt3At60F: 2460,
    provenance: 'from memory',
  },
}
