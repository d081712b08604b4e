import type { CylinderGasCode } from './gas-data'
import type { Gauge } from './gauge-class'
import type { Refused } from './refusal'
import type { Source, Term } from './source'

/** What is fixed by a cylinder's size. Masses in kg, pressures in kPa gauge at 70 °F. */
export type CylinderSize = {
  gas: CylinderGasCode
  /** Mass of gas in a full cylinder. */
  nominalKg: number
  /** Settled pressure when full, 70 °F; needed for acetylene by gauge and where the water volume is not known. */
  ratedGaugePressureKpa?: number
  /** Water volume; found from the nominal contents by the real gas when absent (oxygen, nitrogen, argon). */
  waterVolumeL?: number
}

export type CylinderReading =
  | {
      kind: 'gauge'
      gaugePressureKpa: number
      /** Temperature of the gas, in practice of the shell or the air. */
      temperatureK: number
      temperatureStandardUncertaintyK?: number
      gauge?: Gauge
    }
  | {
      kind: 'weight'
      grossKg: number
      tareKg: number
      grossStandardUncertaintyKg?: number
      tareStandardUncertaintyKg?: number
    }
  /** Delivered as full and not read: the nominal contents with the filler's tolerance. */
  | { kind: 'asDelivered' }

export type Contents = {
  ok: true
  gas: CylinderGasCode
  gasKg: number
  standardUncertaintyKg: number
  low90Kg: number
  high90Kg: number
  /** The terms of the uncertainty, in the order they were combined; `contribution` in kg. */
  chain: Term[]
  source: Source
}

export type ContentsOutcome = Contents | Refused
