import 'server-only'
import { type CutOpened, openedCut, type ShopTip } from '@/lib/calc/opened-cut'
import { toCutInput } from '@/lib/schemas/cut-input'
import type { CutRow } from './cut-rows'
import type { CutListEstimate } from './estimates'

/** Where the numbers of one cut of a list come from; null for a cut that has none. */
export function openCut(
  cut: CutRow,
  { inputs, result }: CutListEstimate,
  tips: readonly ShopTip[],
): CutOpened | null {
  if (!result) return null
  return openedCut(toCutInput(cut, inputs.cuts[0]?.process ?? 'hand'), inputs, tips)
}
