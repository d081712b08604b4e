import { volumeOf, volumeUnit } from '@/app/(app)/audit/audit-view'
import { DANGERS } from '@/lib/calc/finding-rank'
import type { GasCode } from '@/lib/calc/gas-data'
import { Z_90 } from '@/lib/calc/stats'
import type { ListedCause, ListedFinding } from '@/lib/data/findings/list'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'

type Units = FormatPrefs['units']

/** The size of a cause as this person reads gas: the middle, its 9 in 10, and the unit. */
export function sizeWords(cause: ListedCause, gas: GasCode, units: Units) {
  const at = (kg: number) => volumeOf(gas, Math.abs(kg), units)
  const half = Z_90 * cause.standardUncertaintyKg
  const size = Math.abs(cause.sizeKg)
  const decimals = units === 'us' ? 0 : 1
  return {
    value: formatNumber(at(size), decimals),
    interval: formatInterval(at(Math.max(0, size - half)), at(size + half), decimals),
    unit: volumeUnit(units),
  }
}

/** "99 %", never sure of itself: more than 99 is said so. */
export function shareWords(probability: number): string {
  const percent = Math.round(probability * 100)
  if (percent >= 100) return '> 99 %'
  return percent < 1 ? '< 1 %' : `${percent} %`
}

export const isDangerous = (finding: Pick<ListedFinding, 'danger'>) =>
  finding.danger >= DANGERS.otherLeak

/** The key of the words for how soon somebody must look. */
export function dangerKey(danger: number) {
  if (danger >= DANGERS.fuelLeak) return 'fuelLeak'
  if (danger >= DANGERS.oxygenLeakEnclosed) return 'oxygenLeakEnclosed'
  return danger >= DANGERS.otherLeak ? 'otherLeak' : 'none'
}

/** What stands first in a finding: what it would be, and about which cylinders. */
export const causeParams = (cause: ListedCause, serials: readonly string[]) => ({
  kind: cause.kind,
  how: cause.how ?? 'none',
  serials: serials.join(', '),
})
