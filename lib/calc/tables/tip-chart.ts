import type { FuelCode } from '../gas-data'
import type { Provenance } from '../source'

/** Low and high of a printed range. */
export type Range = readonly [number, number]

/** One thickness. Units are those of the print: in, in/min, ft³/h at 70 °F and 1 atm, psig. */
export type TipChartRow = {
  thicknessIn: number
  /** The maker's or the shop's own number for the tip; it means nothing beside another chart. */
  tip?: string
  orificeIn: Range | null
  speedInPerMin: Range
  cuttingOxygenFt3PerH: Range
  fuelFt3PerH: Partial<Record<FuelCode, Range>>
  /** At the torch. */
  oxygenPsig?: Range
  fuelPsig?: Partial<Record<FuelCode, Range>>
}

/** Settings by thickness: the built-in table, or a shop's own chart. Rows rise in thickness. */
export type TipChart = {
  id: string
  title: string
  source: string
  provenance: Provenance
  /** Metals that it is for. */
  materials: readonly string[]
  rows: readonly TipChartRow[]
}
