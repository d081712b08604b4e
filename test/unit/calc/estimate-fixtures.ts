import { estimateCutList } from '@/lib/calc/estimate'
import type { CutInput, EstimateInput, EstimateResult } from '@/lib/calc/estimate-types'
import { gasKgFromFt3, gaugeKpaFromPsig } from '@/lib/calc/units'

export const plateCut = (more: Partial<CutInput> = {}): CutInput => ({
  id: 'a',
  material: 'carbon_steel',
  shape: { kind: 'plate', thicknessM: 0.0127, lengthM: 2 },
  count: 10,
  ...more,
})

export const cutList = (more: Partial<EstimateInput> = {}): EstimateInput => ({
  fuel: 'acetylene',
  cuts: [plateCut()],
  ...more,
})

export const OXYGEN_244 = {
  gas: 'oxygen',
  sizeCode: '244',
  nominalKg: gasKgFromFt3('oxygen', 244),
  ratedGaugePressureKpa: gaugeKpaFromPsig(2200),
} as const

export const ACETYLENE_225 = {
  gas: 'acetylene',
  sizeCode: '225',
  nominalKg: gasKgFromFt3('acetylene', 225),
} as const

export function estimated(input: EstimateInput): EstimateResult {
  const outcome = estimateCutList(input)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome
}
