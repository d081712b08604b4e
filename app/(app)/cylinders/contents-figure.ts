import type { CylinderRow } from '@/lib/data/cylinders-shown'
import type { FormatPrefs } from '@/lib/format/prefs'
import type { QuantityInterval } from '@/lib/format/quantity'
import { gasFigure } from '../jobs/figures'

/** What is in it, with its interval; null where nobody knows. */
export function contentsFigure(
  { gasId, contents }: Pick<CylinderRow, 'gasId' | 'contents'>,
  prefs: FormatPrefs,
): QuantityInterval | null {
  if (!contents) return null
  const { kg: meanKg, low90Kg, high90Kg } = contents
  return gasFigure(gasId, { meanKg, low90Kg, high90Kg }, prefs)
}
