import { interpolateMonotone } from './interpolate'
import type { Traced } from './source'
import { OXYGEN_PRESSURE_1916, OXYGEN_PRESSURE_1916_ID } from './tables/oxygen-pressure-1916'
import { source, traced } from './trace'
import { gaugeKpaFromPsig, UNITS } from './units'

/**
 * Cutting-oxygen pressure that a printed table of 1916 gives for a thickness.
 *
 * @param pathM thickness along the cut
 * @returns kPa gauge with its source; null outside 1/4 to 9 in, where nothing readable was found
 * @remarks History for comparison: the tip's maker sets the pressure.
 * @source Manly 1916, Project Gutenberg eBook 7969 (read)
 */
export function oxygenPressure1916(pathM: number): Traced | null {
  const thicknessIn = pathM / UNITS.in.toBase
  const points = OXYGEN_PRESSURE_1916.map(
    (row) => [row.thicknessIn, row.cuttingOxygenPsig] as const,
  )
  const first = points[0]
  const last = points.at(-1)
  if (!first || !last || thicknessIn < first[0] || thicknessIn > last[0]) return null
  const psig = interpolateMonotone(points, thicknessIn)
  const from = source(
    'oxygenPressure1916',
    { pathM: [pathM, 'm'] },
    { tableId: OXYGEN_PRESSURE_1916_ID, provenance: 'read' },
  )
  return traced(gaugeKpaFromPsig(psig), 'kPa', from)
}
