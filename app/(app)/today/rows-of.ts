import type { Today, TodayPermit } from '@/lib/data/today/today'
import { type GasToday, gasEndsMs } from './gas-row'

export type TodayRow =
  | Readonly<{ kind: 'permit'; key: string; endsMs: number; permit: TodayPermit }>
  | Readonly<{ kind: 'gas'; key: string; endsMs: number; gas: GasToday }>

/** Everything on the site's one axis, what ends first on top; what nothing tells the end of, last. */
export function rowsOf(today: Today, siteId: string): TodayRow[] {
  const permits = today.permits.map(
    (permit): TodayRow => ({
      kind: 'permit',
      key: permit.id,
      endsMs: permit.endsAt.getTime(),
      permit,
    }),
  )
  const gas = today.outfits.flatMap((outfit) =>
    ([outfit.oxygen, outfit.fuel] as const).map((side): TodayRow => {
      const permit = today.permits.find((one) => one.outfitId === outfit.outfitId)
      const row = {
        side,
        outfitNumber: outfit.number,
        isBurning: outfit.isBurning,
        href: permit ? `/permits/${permit.id}` : `/cylinders?site=${siteId}`,
      }
      return {
        kind: 'gas',
        key: `${outfit.outfitId}-${side.side}`,
        endsMs: gasEndsMs(row) ?? Infinity,
        gas: row,
      }
    }),
  )
  return [...permits, ...gas].toSorted((a, b) => (a.endsMs === b.endsMs ? 0 : a.endsMs - b.endsMs))
}
