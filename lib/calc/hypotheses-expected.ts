import { groupBy, type Stretches } from './hypotheses-stretches'
import type { Stretch, TrailReading } from './hypotheses-types'
import { quadrature } from './stats'

/** What a stretch should have taken, by its crew's own factor. */
export type Expected = { kg: number; variance: number }

/** Where the record can't say what was expected, nothing is balanced. */
const UNKNOWN: Expected = { kg: Number.NaN, variance: Number.NaN }

/** Stretches below which a crew's factor is not learned here but taken from all. Own choice. */
const LEAST_STRETCHES = 8
/** Where nothing can be learned: the table as it stands, a quarter either way. Own choice. */
const UNLEARNED = { factor: 1, scatter: 0.25 }
/** A crew never runs closer to its factor than this. Own choice. */
const LEAST_SCATTER = 0.06
/** Gas that a stretch may take for lighting up and purging beside any estimate, a share of one cylinder. Own choice. */
const WORK_SHARE = 0.005
/** What a closed cylinder may seem to lose by settling and weather, a share of its contents. Own choice. */
const CLOSED_SHARE = 0.003
/** From the median of distances to a standard deviation. @source normal distribution, 1/Φ⁻¹(0.75) */
const MAD_SCALE = 1.482602218505602

type Run = { factor: number; scatter: number }

const median = (values: readonly number[]): number => {
  const rising = [...values].sort((a, b) => a - b)
  const middle = rising.length >> 1
  return rising.length % 2 === 1
    ? (rising[middle] as number)
    : ((rising[middle - 1] as number) + (rising[middle] as number)) / 2
}

/**
 * What each stretch should have taken: its work by the table, times how the crew runs by gauges alone.
 *
 * Factor and scatter are medians, so that the faults that are looked for do not hide themselves in them.
 *
 * @param parted stretches of the trail
 * @param readings the trail's
 * @returns expected gas with its variance, one a stretch; NaN where the record can't say
 * @source medians and median distances: common practice in robust statistics (from memory)
 */
export function expectedOf(
  { stretches, before }: Stretches,
  readings: readonly TrailReading[],
): Expected[] {
  const usedOf = (stretch: Stretch) =>
    -stretch.explainedKg +
    stretch.ends.reduce(
      (sum, end) =>
        sum +
        (readings[before[end] as number] as TrailReading).gasKg -
        (readings[end] as TrailReading).gasKg,
      0,
    )
  const ratios = stretches.flatMap((one) =>
    one.kind === 'work' && one.expectedKg
      ? [{ groupId: one.groupId ?? '', ratio: usedOf(one) / one.expectedKg }]
      : [],
  )
  const all = runOf(ratios.map((one) => one.ratio)) ?? UNLEARNED
  const own = new Map(
    groupBy(ratios, (one) => one.groupId).map(([groupId, members]) => [
      groupId,
      runOf(members.map((one) => one.ratio)) ?? all,
    ]),
  )
  return stretches.map((stretch) => {
    if (stretch.expectedKg === null) return UNKNOWN
    const nominalKg = Math.max(
      ...stretch.ends.map((end) => (readings[end] as TrailReading).nominalKg),
    )
    if (stretch.kind !== 'work')
      return {
        kg: stretch.expectedKg + stretch.explainedKg,
        variance: (CLOSED_SHARE * nominalKg) ** 2,
      }
    const { factor, scatter } = own.get(stretch.groupId ?? '') ?? all
    const kg = factor * stretch.expectedKg
    return {
      kg: kg + stretch.explainedKg,
      variance: quadrature([scatter * kg, WORK_SHARE * nominalKg]) ** 2,
    }
  })
}

function runOf(ratios: readonly number[]): Run | null {
  if (ratios.length < LEAST_STRETCHES) return null
  const factor = median(ratios)
  if (!(factor > 0)) return null
  const distance = median(ratios.map((ratio) => Math.abs(ratio - factor)))
  return { factor, scatter: Math.max(LEAST_SCATTER, (MAD_SCALE * distance) / factor) }
}
