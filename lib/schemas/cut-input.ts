import type { CutInput } from '../calc/estimate-types'
import type { CutDims } from './cut-dims'

type Described = Readonly<{
  id: string
  material: string
  coating: string
  dims: CutDims
  position: 'flat' | 'horizontal' | 'vertical' | 'overhead'
  count: number
  doneCount: number
}>

/** A cut as lib/calc takes it. */
export function toCutInput(cut: Described, process: 'hand' | 'machine'): CutInput {
  const { id, material, coating, dims, position, count, doneCount } = cut
  return {
    id,
    material,
    ...(coating === 'none' ? {} : { coating }),
    ...dims,
    count,
    doneCount: Math.min(doneCount, count),
    position,
    process,
  }
}
