import { pieceKg, type Section, sectionOf } from './cut-geometry'
import { timeMultiplier } from './cut-times'
import { type GasTerms, type SegmentWork, segmentWork, timeOf } from './estimate-segment'
import type { CutEstimate, CutInput } from './estimate-types'
import type { FuelCode } from './gas-data'
import { CUT_CV } from './judgements'
import { oxygenPressure1916 } from './oxygen-pressure'
import type { TipChart } from './tables/tip-chart'
import { source, traced } from './trace'

/** One cut's share of the job's gas: terms and uncertainties in kg. */
export type GasWork = { terms: GasTerms; common: number; own: number }

export type CutWork = {
  estimate: CutEstimate
  oxygen: GasWork
  fuel: GasWork
  richFuelM3PerS: number
  floorBinds: boolean
}

type Context = {
  chart: TipChart
  fuel: FuelCode
  purityPct: number
  idleFraction: number
  factor: number
}

/**
 * One entry of a cut list, for the cuts still to do.
 *
 * @param cut the entry, already checked
 * @param context chart, fuel, purity, idle share and the crew's factor
 * @returns what is shown of the cut, and its share of the job's gas with the uncertainty common to the job
 *   and its own
 * @source `segmentWork`; the jet's oxygen is never below `oxygenFloorKg`
 */
export function cutWork(cut: CutInput, context: Context): CutWork {
  const { chart, fuel, purityPct, idleFraction, factor } = context
  const remaining = cut.count - (cut.doneCount ?? 0)
  const section = sectionOf(cut.shape)
  const works = section.segments.map((segment) =>
    segmentWork(segment, { cut, remaining, chart, fuel, purityPct, idleFraction }),
  )
  const floorKg = sum(works, (work) => work.floorKg)
  const table = gasWork(
    works.map((work) => work.oxygen),
    remaining,
    factor,
  )
  const floorBinds = table.terms.cutting < floorKg
  const oxygen = {
    ...table,
    terms: { ...table.terms, cutting: Math.max(floorKg, table.terms.cutting) },
  }
  const fuelWork = gasWork(
    works.map((work) => work.fuel),
    remaining,
    factor,
  )
  return {
    estimate: describeCut({
      cut,
      section,
      works,
      remaining,
      floorKg,
      oxygen,
      fuel: fuelWork,
      context,
    }),
    oxygen,
    fuel: fuelWork,
    richFuelM3PerS: remaining > 0 ? Math.max(0, ...works.map((work) => work.richFuelM3PerS)) : 0,
    floorBinds,
  }
}

function gasWork(
  parts: readonly (GasTerms & { common: number })[],
  remaining: number,
  factor: number,
): GasWork {
  const terms: GasTerms = {
    cutting: factor * sum(parts, (part) => part.cutting),
    preheat: factor * sum(parts, (part) => part.preheat),
    start: factor * sum(parts, (part) => part.start),
    idle: factor * sum(parts, (part) => part.idle),
  }
  // Scatter of single cuts averages out over a batch of like ones.
  const own = remaining > 0 ? (CUT_CV / Math.sqrt(remaining)) * totalOf(terms) : 0
  return { terms, common: factor * sum(parts, (part) => part.common), own }
}

/** Sum of the terms, kg. */
export function totalOf(terms: GasTerms): number {
  return terms.cutting + terms.preheat + terms.start + terms.idle
}

function sum<T>(items: readonly T[], pick: (item: T) => number): number {
  return items.reduce((total, item) => total + pick(item), 0)
}

type Described = {
  cut: CutInput
  section: Section
  works: readonly SegmentWork[]
  remaining: number
  floorKg: number
  oxygen: GasWork
  fuel: GasWork
  context: Context
}

function describeCut(parts: Described): CutEstimate {
  const { cut, works, remaining, context } = parts
  const known = { tableId: context.chart.id, provenance: context.chart.provenance }
  const amount = (formulaCode: string, work: GasWork) =>
    traced(
      totalOf(work.terms),
      'kg',
      source(
        formulaCode,
        {
          cutting: [work.terms.cutting, 'kg'],
          preheat: [work.terms.preheat, 'kg'],
          start: [work.terms.start, 'kg'],
          idle: [work.terms.idle, 'kg'],
          crewFactor: [context.factor, '1'],
        },
        known,
      ),
    )
  const multiplierFrom = source(
    'positionMultiplier',
    { position: [cut.position ?? 'flat', ''], conditions: [(cut.conditions ?? []).join(' '), ''] },
    { provenance: 'common practice' },
  )
  const floorFrom = source(
    'oxygenFloor',
    { remainingCount: [remaining, '1'] },
    { provenance: 'derived' },
  )
  const thickest = Math.max(...works.map((work) => work.segment.pathM.value))
  return {
    cutId: cut.id,
    remainingCount: remaining,
    segments: works.map((work) => work.segment),
    pieceKg: describePiece(parts),
    positionMultiplier: traced(timeMultiplier(cut), '1', multiplierFrom),
    time: timeOf(works),
    oxygenKg: amount('oxygenOfCut', parts.oxygen),
    fuelKg: amount('fuelOfCut', parts.fuel),
    oxygenFloorKg: traced(parts.floorKg, 'kg', floorFrom),
    oxygenPressureGaugeKpa: context.fuel === 'acetylene' ? oxygenPressure1916(thickest) : null,
  }
}

function describePiece({ cut, section }: Described): CutEstimate['pieceKg'] {
  if (!cut.piece) return null
  const kg = pieceKg({ piece: cut.piece, shape: cut.shape, section })
  if (kg === null) return null
  const size =
    'areaM2' in cut.piece
      ? { areaM2: [cut.piece.areaM2, 'm2'] as const }
      : { lengthM: [cut.piece.lengthM, 'm'] as const }
  const known = {
    provenance: section.provenance,
    ...(section.tableId ? { tableId: section.tableId } : {}),
  }
  return traced(kg, 'kg', source('pieceWeight', { ...size, shape: [cut.shape.kind, ''] }, known))
}
