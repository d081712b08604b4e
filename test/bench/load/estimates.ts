import { supplySizeOf } from '@/lib/calc/catalogue-size'
import { estimateCutList } from '@/lib/calc/estimate'
import type { CutInput, EstimateInput } from '@/lib/calc/estimate-types'
import { sizeOf } from '@/seed/reference'

const SHAPES = ['W24x76', 'W18x50', 'W12x50']

const cuts: CutInput[] = Array.from({ length: 4 }, (_, index) => ({
  id: `CUT-${index + 1}`,
  material: 'carbon_steel',
  shape: { kind: 'wShape', designation: SHAPES[(index + 1) % 3] ?? 'W12x50' },
  count: 90,
  doneCount: 0,
  position: 'horizontal',
  process: 'hand',
  piece: { lengthM: 4.572 },
}))

const supply = (id: Parameters<typeof sizeOf>[0]) => {
  const { gas, ...size } = sizeOf(id)
  const found = supplySizeOf({ ...size, gasId: gas })
  if (!found) throw new Error(`no supply in ${id}`)
  return found
}

/** Rows of estimates as the app keeps them, one a fuel; the cuts' ids are put in for each job. */
export function keptEstimates(): unknown[][] {
  return (['acetylene', 'propane'] as const).map((fuel) => {
    const inputs: EstimateInput = {
      fuel,
      cuts,
      oxygenSize: supply('oxygen-244'),
      fuelSize: supply(fuel === 'acetylene' ? 'acetylene-225' : 'propane-100'),
      onHand: { oxygenKg: 0, fuelKg: 0 },
    }
    const result = estimateCutList(inputs)
    if (!result.ok) throw new Error(`refused: ${result.refusals.map((one) => one.code).join()}`)
    return [
      fuel,
      result.calcVersion,
      JSON.stringify(inputs),
      JSON.stringify(result),
      JSON.stringify(result.cuts.map((cut) => cut.oxygenKg.source)),
      result.oxygen.mean,
      result.oxygen.standardUncertainty,
      result.fuelGas.mean,
      result.fuelGas.standardUncertainty,
    ]
  })
}
