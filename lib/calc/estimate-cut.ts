import type { CutNumbers } from './cut-numbers'
import type { CutRuns } from './cut-runs'
import type { EstimateContext } from './estimate-context'
import { describeSegment } from './estimate-segment'
import type { CutCondition, CutEstimate, CutInput } from './estimate-types'
import { JUDGEMENTS, type JudgementKey, SLOWS_STARTS } from './judgements'
import { coatingAdvice, isCoatingCode } from './materials'
import { oxygenPressure1916 } from './oxygen-pressure'
import { isSectionFamily, SECTION_TABLE_ID } from './sections/named-section'
import type { Provenance, Source, Traced } from './source'
import { source, traced } from './trace'

/**
 * One entry of a cut list with the source of every number, for opening it.
 *
 * @param cut checked; runs and numbers filled for it by `prepareCut` and `cutNumbers`
 * @returns what is shown of the cut; its numbers are those that the totals add up
 */
export function describeCut(
  cut: CutInput,
  runs: CutRuns,
  numbers: CutNumbers,
  context: EstimateContext,
): CutEstimate {
  const segments = Array.from({ length: runs.n }, (_, i) => describeSegment(cut, runs, i, context))
  const thickest = Math.max(...segments.map((segment) => segment.pathM.value))
  const hasWeight = !Number.isNaN(numbers.pieceKg)
  const aboveKg = context.judged.rigAbove
  const { coating } = cut
  return {
    cutId: cut.id,
    remainingCount: numbers.remaining,
    segments,
    pieceKg: hasWeight ? traced(numbers.pieceKg, 'kg', pieceSource(cut, runs)) : null,
    rig: hasWeight ? { mustRig: numbers.pieceKg > aboveKg, aboveKg } : null,
    coating: coating !== undefined && isCoatingCode(coating) ? coatingAdvice(coating) : null,
    positionMultiplier: multiplier(numbers.multiplier, 'positionMultiplier', cut, context),
    startMultiplier: multiplier(numbers.startMultiplier, 'startMultiplier', cut, context),
    time: { cuttingS: numbers.cuttingS, startS: numbers.startS, idleS: numbers.idleS },
    ...describeGas(cut, numbers, context),
    oxygenPressureGaugeKpa:
      context.fuel === 'acetylene' && !cut.own ? oxygenPressure1916(thickest) : null,
  }
}

function describeGas(
  cut: CutInput,
  numbers: CutNumbers,
  context: EstimateContext,
): Pick<CutEstimate, 'oxygenKg' | 'fuelKg' | 'oxygenFloorKg'> {
  const known: { tableId?: string; provenance: Provenance } = cut.own
    ? { provenance: 'entered' }
    : { tableId: context.chart.id, provenance: context.chart.provenance }
  const amount = (
    kg: number,
    formulaCode: string,
    terms: readonly [number, number, number, number],
  ) =>
    traced(
      kg,
      'kg',
      source(
        formulaCode,
        {
          cutting: [terms[0], 'kg'],
          preheat: [terms[1], 'kg'],
          start: [terms[2], 'kg'],
          idle: [terms[3], 'kg'],
          crewFactor: [context.factor, '1'],
        },
        known,
      ),
    )
  const { oxygenCuttingKg, oxygenPreheatKg, oxygenStartKg, oxygenIdleKg } = numbers
  const { fuelPreheatKg, fuelStartKg, fuelIdleKg } = numbers
  return {
    oxygenKg: amount(numbers.oxygenKg, 'oxygenOfCut', [
      oxygenCuttingKg,
      oxygenPreheatKg,
      oxygenStartKg,
      oxygenIdleKg,
    ]),
    fuelKg: amount(numbers.fuelKg, 'fuelOfCut', [0, fuelPreheatKg, fuelStartKg, fuelIdleKg]),
    oxygenFloorKg: traced(
      numbers.floorKg,
      'kg',
      source(
        'oxygenFloor',
        { remainingCount: [numbers.remaining, '1'] },
        { provenance: 'derived' },
      ),
    ),
  }
}

/** A multiplier that opens into each judged figure that it is made of, and the bound on their pile. */
function multiplier(
  value: number,
  formulaCode: 'positionMultiplier' | 'startMultiplier',
  cut: CutInput,
  { judged }: EstimateContext,
): Traced {
  const conditions = [...new Set<CutCondition>(cut.conditions ?? [])].filter(
    (condition) => formulaCode === 'positionMultiplier' || SLOWS_STARTS[condition],
  )
  const position = formulaCode === 'positionMultiplier' ? (cut.position ?? 'flat') : 'flat'
  const keys: JudgementKey[] = position === 'flat' ? conditions : [position, ...conditions]
  const isChanged = [...keys, 'mostTimes' as const].some(
    (key) => judged[key] !== JUDGEMENTS[key].usual,
  )
  const parts = Object.fromEntries(keys.map((key) => [key, [judged[key], '1'] as const]))
  const from = source(
    formulaCode,
    { ...parts, mostTimes: [judged.mostTimes, '1'] },
    { provenance: isChanged ? 'entered' : 'common practice' },
  )
  return traced(value, '1', from)
}

function pieceSource(cut: CutInput, runs: CutRuns): Source {
  const { piece, shape, task } = cut
  const size = !piece
    ? { task: [task?.kind ?? '', ''] as const, removedM3: [runs.removedM3, 'm3'] as const }
    : 'areaM2' in piece
      ? { areaM2: [piece.areaM2, 'm2'] as const }
      : { lengthM: [piece.lengthM, 'm'] as const }
  const known = isSectionFamily(shape.kind)
    ? { provenance: 'from memory' as const, tableId: SECTION_TABLE_ID[shape.kind] }
    : { provenance: 'entered' as const }
  return source('pieceWeight', { ...size, shape: [shape.kind, ''] }, known)
}
