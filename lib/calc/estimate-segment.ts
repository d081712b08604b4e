import { emptySettings } from './chart-curves'
import { runSettings } from './cut-numbers'
import type { CutRuns } from './cut-runs'
import { type EstimateContext, preheatRatio } from './estimate-context'
import type { CutInput, SegmentEstimate } from './estimate-types'
import type { Provenance, Traced } from './source'
import { orificeAt, settingRanges } from './tip-settings'
import { source, traced } from './trace'

/**
 * One run of metal of one thickness, with the source of each setting.
 *
 * @param cut checked; runs filled for it; i which run
 * @returns the very settings that `cutNumbers` used, with the chart's ranges beside them
 */
export function describeSegment(
  cut: CutInput,
  runs: CutRuns,
  i: number,
  context: EstimateContext,
): SegmentEstimate {
  const { chart, fuel } = context
  const pathM = runs.pathM[i] as number
  const settings = emptySettings()
  const process = cut.process ?? 'hand'
  runSettings(cut, pathM, context.curves[process], settings)
  const looked = (formulaCode: string) => settingSource(formulaCode, cut, pathM, context)
  const ratio = preheatRatio(fuel)
  const orificeM = cut.own
    ? null
    : orificeAt({ chart, pathM, place: context.judged[`${process}Place`] })
  const { speedMPerS, cuttingOxygenM3PerS, fuelM3PerS } = settings
  return {
    part: runs.part[i] as SegmentEstimate['part'],
    count: runs.count[i] as number,
    ...describePath(cut, runs, i),
    speedMPerS: traced(speedMPerS, runs.isArea ? 'm2/s' : 'm/s', looked('speedFromTable')),
    orificeM: orificeM === null ? null : traced(orificeM, 'm', looked('orificeFromTable')),
    cuttingOxygenM3PerS: traced(cuttingOxygenM3PerS, 'm3/s', looked('oxygenFlowFromTable')),
    fuelM3PerS: traced(fuelM3PerS, 'm3/s', fuelSource(cut, pathM, context)),
    preheatOxygenM3PerS: traced(
      fuelM3PerS * ratio.mean,
      'm3/s',
      source(
        'preheatOxygenByRatio',
        { fuelM3PerS: [fuelM3PerS, 'm3/s'], ratio: [ratio.mean, '1'] },
        { tableId: chart.id, provenance: ratio.provenance },
      ),
    ),
    ranges: cut.own
      ? {
          speedMPerS: [speedMPerS, speedMPerS],
          cuttingOxygenM3PerS: [cuttingOxygenM3PerS, cuttingOxygenM3PerS],
          fuelM3PerS: [fuelM3PerS, fuelM3PerS],
          orificeM: null,
        }
      : settingRanges({
          chart,
          fuel,
          pathM,
          ownFuelFlowM3PerS: context.settings.ownFuelFlowM3PerS,
        }),
  }
}

function describePath(cut: CutInput, runs: CutRuns, i: number): { lengthM: Traced; pathM: Traced } {
  const table = runs.section
    ? { provenance: 'from memory' as const }
    : { provenance: 'entered' as const }
  const lengthFrom = source(
    'cutLength',
    {
      shape: [cut.shape.kind, ''],
      ...(runs.section ? { designation: [runs.section.name, ''] as const } : {}),
      ...(cut.task ? { task: [cut.task.kind, ''] as const } : {}),
      ...(cut.miterDeg ? { miterDeg: [cut.miterDeg, 'deg'] as const } : {}),
    },
    table,
  )
  const pathFrom = source(
    'bevelPath',
    {
      thicknessM: [runs.thicknessM[i] as number, 'm'],
      bevelDeg: [cut.bevelDeg ?? 0, 'deg'],
      ...(cut.stackPlates ? { stackPlates: [cut.stackPlates, '1'] as const } : {}),
    },
    table,
  )
  return {
    lengthM: traced(runs.lengthM[i] as number, runs.isArea ? 'm2' : 'm', lengthFrom),
    pathM: traced(runs.pathM[i] as number, 'm', pathFrom),
  }
}

function settingSource(
  formulaCode: string,
  cut: CutInput,
  pathM: number,
  { chart, fuel }: EstimateContext,
) {
  if (cut.own) return source('ownSettings', {}, { provenance: 'entered' })
  const known: { tableId: string; provenance: Provenance } = {
    tableId: chart.id,
    provenance: chart.provenance,
  }
  return source(
    formulaCode,
    { pathM: [pathM, 'm'], fuel: [fuel, ''], process: [cut.process ?? 'hand', ''] },
    known,
  )
}

function fuelSource(cut: CutInput, pathM: number, context: EstimateContext) {
  const flow = context.settings.ownFuelFlowM3PerS
  if (cut.own || !flow) return settingSource('fuelFlowFromTable', cut, pathM, context)
  return source(
    'ownFuelFlow',
    { low: [flow[0], 'm3/s'], high: [flow[1], 'm3/s'] },
    { provenance: 'entered' },
  )
}
