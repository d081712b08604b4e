import { chartCurves, emptySettings, lookUp } from '@/lib/calc/chart-curves'
import { emptyRuns, fillRuns } from '@/lib/calc/cut-runs'
import { estimateContext } from '@/lib/calc/estimate-context'
import { estimateTotals } from '@/lib/calc/estimate-totals'
import type { CutInput } from '@/lib/calc/estimate-types'
import { JUDGEMENTS } from '@/lib/calc/judgements'
import { namedSection, sectionNames } from '@/lib/calc/sections/named-section'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { interleaved, percentile } from './measure/interleave'

export const name = 'Estimated cuts on one core'

/** A turn is short and there are many, so that some fall between whatever else the machine does. */
const CUTS = 10_000
const TURNS = 200
const WARM_UP = 20
const MOST_TIMES_BARE = 4
const LEAST_PER_S = 500_000
const MOST_MS = 50
const FUEL = 'acetylene'

/** A quarter W-shapes, the rest plate from 4 to 254 mm; every fifth dirty, every third overhead. */
function makeCuts(): CutInput[] {
  const names = sectionNames('wShape')
  return Array.from({ length: CUTS }, (_, index): CutInput => {
    const designation = names[index % names.length] ?? 'W12x50'
    return {
      id: String(index),
      material: 'carbon_steel',
      shape:
        index % 4 === 0
          ? { kind: 'wShape', designation }
          : {
              kind: 'plate',
              thicknessM: 0.004 + ((index * 7919) % 1000) / 4000,
              lengthM: 1 + (index % 5),
            },
      count: 1 + (index % 9),
      position: index % 3 ? 'flat' : 'overhead',
      process: 'hand',
      ...(index % 5 ? {} : { conditions: ['dirty'] }),
    }
  })
}

type Row = Readonly<{ designation: string | null; pathsM: readonly number[] }>

/** What of a cut is looked up in a table, the least that any estimate of it must do: section by name, chart by path. */
function rowsOf(cuts: readonly CutInput[]): Row[] {
  const runs = emptyRuns()
  return cuts.map((cut) => {
    fillRuns(cut, runs)
    return {
      designation: 'designation' in cut.shape ? cut.shape.designation : null,
      pathsM: Array.from({ length: runs.n }, (_, run) => runs.pathM[run] ?? 0),
    }
  })
}

const timed = async (work: () => void) => {
  const from = performance.now()
  work()
  return performance.now() - from
}

export async function run() {
  const outcome = estimateContext({ fuel: FUEL })
  if (!outcome.ok) throw new Error('the built-in chart was refused')
  const cuts = makeCuts()
  const rows = rowsOf(cuts)
  const curves = chartCurves({
    chart: OFC_CARBON_STEEL,
    fuel: FUEL,
    place: JUDGEMENTS.handPlace.usual,
  })
  const settings = emptySettings()
  let kept = 0 // read at the end, so that no loop is for nothing
  const estimate = () =>
    timed(() => {
      const totals = estimateTotals(cuts, outcome.context)
      if (totals.refused.length > 0) throw new Error(`${totals.refused.length} cuts were refused`)
    })
  const bare = () =>
    timed(() => {
      for (const { designation, pathsM } of rows) {
        if (designation !== null) kept += namedSection('wShape', designation)?.kgPerM ?? 0
        for (const path of pathsM) {
          lookUp(curves, path, settings)
          kept += settings.speedMPerS + settings.fuelM3PerS + settings.preheatS
        }
      }
    })
  await interleaved(WARM_UP, estimate, bare)
  const { fullMs, emptyMs } = await interleaved(TURNS, estimate, bare)
  if (!(kept > 0)) throw new Error('the look-ups found nothing')
  // The quickest turn of each is the one that nothing else disturbed.
  const ratio = Math.min(...fullMs) / Math.min(...emptyMs)
  const perS = (CUTS / Math.min(...fullMs)) * 1000
  const recountMs = percentile(fullMs, 95)
  return {
    'Estimate: time beside bare look-ups in the tables': {
      value: Math.round(ratio * 100) / 100,
      unit: 'times',
      aim: `at most ${MOST_TIMES_BARE}`,
      holds: ratio <= MOST_TIMES_BARE,
    },
    'Estimate: cuts on one core': {
      value: Math.round(perS),
      unit: 'cuts/s',
      aim: `at least ${LEAST_PER_S}`,
      holds: perS >= LEAST_PER_S,
    },
    // The engine without the page: `sheet` times the page in Chromium.
    'Estimate: 10,000 rows counted anew (95th percentile)': {
      value: Math.round(recountMs * 100) / 100,
      unit: 'ms',
      aim: `under ${MOST_MS}`,
      holds: recountMs < MOST_MS,
    },
  }
}
