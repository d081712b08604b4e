// Volume of a kilogram of gas where books and trades have measured it: 70 °F, 60 °F and 0 °C, all at 1 atm.
// Source: reference equations evaluated at the three temperatures (oxygen, propane, natural gas as methane,
// propylene), second virial coefficient (acetylene, Z = 0.9933, 0.9929, 0.9915); MPS at 60 °F from memory of a
// welding handbook. Figures in ft³/lb as published; a missing one was not published.
import type { GasCode } from '../gas-data'
import type { Provenance } from '../source'

export const SPECIFIC_VOLUME_ID = 'specific-volume'

export const VOLUME_BASES = ['seventyF', 'sixtyF', 'zeroC'] as const
export type VolumeBase = (typeof VOLUME_BASES)[number]

type Row = Readonly<{ ft3PerLb: Partial<Record<VolumeBase, number>>; provenance: Provenance }>

export const SPECIFIC_VOLUME: Readonly<Record<GasCode, Row>> = {
  oxygen: { ft3PerLb: { seventyF: 12.079, sixtyF: 11.85, zeroC: 11.209 }, provenance: 'read' },
  acetylene: { ft3PerLb: { seventyF: 14.76, sixtyF: 14.47, zeroC: 13.67 }, provenance: 'derived' },
  propane: { ft3PerLb: { seventyF: 8.623, sixtyF: 8.451, zeroC: 7.967 }, provenance: 'read' },
  natural_gas: { ft3PerLb: { seventyF: 24.065, sixtyF: 23.608 }, provenance: 'read' },
  propylene: { ft3PerLb: { seventyF: 9.054, sixtyF: 8.874 }, provenance: 'read' },
  mps: { ft3PerLb: { sixtyF: 8.9 }, provenance: 'from memory' },
}
