import 'server-only'
import { type CutDims, cutDimsSchema } from '@/lib/schemas/cut-dims'

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
