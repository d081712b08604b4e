import type { CutInput } from '../calc/estimate-types'
import type { CutDims } from './cut'

type Described = Readonly<{
  id: string
  material: string
  dims: CutDims
  position: 'flat' | 'horizontal' | 'vertical' | 'overhead'
  count: number
  doneCount: number
}>

/** A cut as lib/calc takes it. */
export function toCutInput(cut: Described, process: 'hand' | 'machine'): CutInput {
  const { shape, bevelDeg, pierced, conditions, piece } = cut.dims
  return {
    id: cut.id,
    material: cut.material,
    shape,
    count: cut.count,
    doneCount: Math.min(cut.doneCount, cut.count),
    position: cut.position,
    process,
    ...(bevelDeg === undefined ? {} : { bevelDeg }),
    ...(pierced === undefined ? {} : { pierced }),
    ...(conditions === undefined ? {} : { conditions }),
    ...(piece === undefined ? {} : { piece }),
  }
}
