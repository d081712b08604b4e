import type { FuelCode } from './gas-data'
import { interpolateMonotone, type Point } from './interpolate'
import type { Provenance } from './source'
import type { Range, TipChart, TipChartRow } from './tables/tip-chart'
import { gaugeKpaFromPsig, UNITS } from './units'

/** Gauge pressure at the torch, low and high, and how it is known. */
export type TipPressure = Readonly<{
  lowGaugeKpa: number
  highGaugeKpa: number
  provenance: Provenance
}>

/*
 * Hand cutting of 1/8 to 2 in of steel. Common practice, no source: oxygen runs from about 20 to about 45 psi,
 * acetylene 3 to 5 psi and up to 8 on the largest; 3/8 in takes about 25 psi oxygen and 5 psi acetylene.
 */
const PRACTICE_OXYGEN_PSIG: readonly Point[] = [
  [1 / 8, 20],
  [3 / 8, 25],
  [2, 45],
]
const PRACTICE_ACETYLENE_PSIG: readonly Point[] = [
  [1 / 8, 3],
  [3 / 8, 5],
  [2, 8],
]
/** Judgement, no source: charts differ from practice by this share. */
const PRACTICE_HALF_WIDTH = 0.2

function ofChart(
  rows: readonly TipChartRow[],
  thicknessIn: number,
  pick: (row: TipChartRow) => Range | undefined,
): TipPressure | null {
  const ranges = rows.map((row) => [row.thicknessIn, pick(row)] as const)
  const points = (end: 0 | 1) =>
    ranges.flatMap(([x, range]): Point[] => (range ? [[x, range[end]]] : []))
  const [lows, highs] = [points(0), points(1)]
  const [first, last] = [lows[0], lows.at(-1)]
  if (!first || !last || lows.length < 2) return null
  if (thicknessIn < first[0] || thicknessIn > last[0]) return null
  return {
    lowGaugeKpa: gaugeKpaFromPsig(interpolateMonotone(lows, thicknessIn)),
    highGaugeKpa: gaugeKpaFromPsig(interpolateMonotone(highs, thicknessIn)),
    provenance: 'entered',
  }
}

function ofPractice(points: readonly Point[], thicknessIn: number): TipPressure | null {
  const [first, last] = [points[0], points.at(-1)]
  if (!first || !last || thicknessIn < first[0] || thicknessIn > last[0]) return null
  const gaugeKpa = gaugeKpaFromPsig(interpolateMonotone(points, thicknessIn))
  return {
    lowGaugeKpa: gaugeKpa * (1 - PRACTICE_HALF_WIDTH),
    highGaugeKpa: gaugeKpa * (1 + PRACTICE_HALF_WIDTH),
    provenance: 'common practice',
  }
}

/**
 * Pressures that a tip wants at the torch for a thickness along the cut.
 *
 * @param known the shop's own chart or null, fuel, process, path through the metal (m)
 * @returns kPa gauge, low and high; null where neither the chart nor practice says: then the maker's figure is needed
 * @remarks A shop's own chart comes first; practice is for hand cutting with acetylene from 1/8 to 2 in.
 * @source the chart as entered; else common practice, no source
 */
export function tipPressures(known: {
  chart: TipChart | null
  fuel: FuelCode
  process: 'hand' | 'machine'
  pathM: number
}): { oxygen: TipPressure | null; fuel: TipPressure | null } {
  const { chart, fuel, process } = known
  // Metres to inches and back may step over an end by a last digit.
  const thicknessIn = Number((known.pathM / UNITS.in.toBase).toPrecision(12))
  const rows = chart?.rows ?? []
  const byPractice = process === 'hand' && fuel === 'acetylene'
  return {
    oxygen:
      ofChart(rows, thicknessIn, (row) => row.oxygenPsig) ??
      (byPractice ? ofPractice(PRACTICE_OXYGEN_PSIG, thicknessIn) : null),
    fuel:
      ofChart(rows, thicknessIn, (row) => row.fuelPsig?.[fuel]) ??
      (byPractice ? ofPractice(PRACTICE_ACETYLENE_PSIG, thicknessIn) : null),
  }
}
