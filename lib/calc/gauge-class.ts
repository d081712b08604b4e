import { requireNumber } from './errors'
import type { Provenance } from './source'

/**
 * Largest error that a gauge's class lets it have, as fractions of full scale: within the middle half of the
 * scale, and in its first and last quarter.
 *
 * @source grades 4A, 3A, 2A, 1A, A, B, C, D: ASME B40.100; classes 0.6 to 4: EN 837-1; both from memory.
 */
export const GAUGE_CLASSES = {
  '4A': { middle: 0.001, ends: 0.001 },
  '3A': { middle: 0.0025, ends: 0.0025 },
  '2A': { middle: 0.005, ends: 0.005 },
  '1A': { middle: 0.01, ends: 0.01 },
  A: { middle: 0.01, ends: 0.02 },
  B: { middle: 0.02, ends: 0.03 },
  C: { middle: 0.03, ends: 0.04 },
  D: { middle: 0.05, ends: 0.05 },
  '0.6': { middle: 0.006, ends: 0.006 },
  '1.0': { middle: 0.01, ends: 0.01 },
  '1.6': { middle: 0.016, ends: 0.016 },
  '2.5': { middle: 0.025, ends: 0.025 },
  '4.0': { middle: 0.04, ends: 0.04 },
} as const satisfies Record<string, { middle: number; ends: number }>

export type GaugeClass = keyof typeof GAUGE_CLASSES
export const GAUGE_CLASS_CODES = Object.keys(GAUGE_CLASSES) as [GaugeClass, ...GaugeClass[]]

/** A gauge as a measuring instrument; a plain fraction of full scale goes before the class. */
export type Gauge = {
  fullScaleKpa?: number
  accuracyFractionOfFullScale?: number
  gaugeClass?: GaugeClass
}

/** Common practice, no source: the gauge of a regulator where nothing is known of it. */
const DEFAULT_FRACTION = 0.025

/**
 * How far a gauge may be off where it is read.
 *
 * @param reading the gauge, the reading (kPa gauge, >= 0) and the full scale to assume when it has none
 * @returns the limit in kPa, to be taken as rectangular, and how it is known
 * @throws {CalcError} OUT_OF_RANGE
 * @source `GAUGE_CLASSES`; a fraction is the user's; neither given: 2.5 %, common practice
 */
export function gaugeLimit(reading: {
  gauge: Gauge | undefined
  gaugePressureKpa: number
  defaultFullScaleKpa: number
}): { limitKpa: number; provenance: Provenance } {
  const { gauge = {}, gaugePressureKpa, defaultFullScaleKpa } = reading
  const fullScaleKpa = requireNumber('fullScaleKpa', gauge.fullScaleKpa ?? defaultFullScaleKpa, {
    above: 0,
  })
  const own = gauge.accuracyFractionOfFullScale
  if (own !== undefined) {
    requireNumber('accuracyFractionOfFullScale', own, { above: 0, max: 0.5 })
    return { limitKpa: own * fullScaleKpa, provenance: 'entered' }
  }
  if (gauge.gaugeClass === undefined)
    return { limitKpa: DEFAULT_FRACTION * fullScaleKpa, provenance: 'common practice' }
  const { middle, ends } = GAUGE_CLASSES[gauge.gaugeClass]
  const share = gaugePressureKpa / fullScaleKpa
  const fraction = share >= 0.25 && share <= 0.75 ? middle : ends
  return { limitKpa: fraction * fullScaleKpa, provenance: 'from memory' }
}
