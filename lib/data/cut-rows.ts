import 'server-only'
import type { CutInput } from '@/lib/calc/estimate-types'
import { type CutDims, cutDimsSchema } from '@/lib/schemas/cut'

/** The most cuts that one list may hold: what a page reads stays bounded. */
export const MOST_CUTS = 200

export const CUT_COLUMNS = {
  id: true,
  ordinal: true,
  title: true,
  material: true,
  coating: true,
  dims: true,
  position: true,
  count: true,
  doneCount: true,
  pieceKg: true,
  note: true,
  version: true,
} as const

export type CutRow = Readonly<{
  id: string
  ordinal: number
  title: string
  material: string
  coating: string
  dims: CutDims
  position: 'flat' | 'horizontal' | 'vertical' | 'overhead'
  count: number
  doneCount: number
  /** Weight of the heaviest piece, where the person knows better than the section. */
  pieceKg: number | null
  note: string | null
  version: number
}>

type Stored = Omit<CutRow, 'dims' | 'position'> & { dims: unknown; position: string }

/** Stored JSON is checked again when it is read: an older shape must fail here, not in a calculation. */
export function toCutRow(stored: Stored): CutRow {
  return {
    ...stored,
    dims: cutDimsSchema.parse(stored.dims),
    position: stored.position as CutRow['position'],
  } // a CHECK holds it
}

/** A cut as lib/calc takes it. */
export function toCutInput(cut: CutRow, process: 'hand' | 'machine'): CutInput {
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
