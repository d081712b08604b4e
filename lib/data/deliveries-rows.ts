import 'server-only'
import type { Reason } from '@/lib/errors'
import { type DeliveryRow, isRefused } from '@/lib/schemas/delivery'

export type SizeChoice = Readonly<{ id: string; name: string; gasId: string }>
export type KnownCylinder = Readonly<{
  id: string
  serial: string
  sizeId: string
  siteId: string | null
  status: string
  dueMonth: Date | null
}>

type Judged = Readonly<{
  rows: readonly DeliveryRow[]
  known: ReadonlyMap<string, KnownCylinder>
  sizes: ReadonlyMap<string, SizeChoice>
  /** By size; null when nothing was ordered. */
  ordered: ReadonlyMap<string, number> | null
  siteId: string
  /** The site's day, kept as a fill date is: its midnight in UTC. */
  today: Date
  thisMonth: Date
}>

const monthText = (month: Date) => month.toISOString().slice(0, 7)

/** When a cylinder is due, as the plate says now; what the record knows otherwise. */
const dueOf = (row: DeliveryRow, known: KnownCylinder | undefined) =>
  row.dueMonth ?? known?.dueMonth ?? null

/** A plate with another month than the record's means a test that the record has not seen. */
function testReason(row: DeliveryRow, known: KnownCylinder | undefined): string | null {
  const isSame =
    !row.dueMonth || row.dueMonth.getTime() === (known?.dueMonth?.getTime() ?? Number.NaN)
  if (!known || isSame) return null
  if (!row.requalifiedOn) return 'ROW_TEST_DAY_MISSING'
  return row.dueMonth && row.dueMonth <= row.requalifiedOn ? 'ROW_DUE_BEFORE_TEST' : null
}

/** A past-due cylinder may come full only if it was filled before its month was over. */
function dueReason(row: DeliveryRow, due: Date | null, thisMonth: Date): string | null {
  if (!due || due >= thisMonth) return null
  if (!row.filledOn) return 'ROW_PAST_DUE_FILL_UNKNOWN'
  const monthAfter = new Date(Date.UTC(due.getUTCFullYear(), due.getUTCMonth() + 1, 1))
  return row.filledOn < monthAfter ? null : 'ROW_PAST_DUE'
}

function placeReason(known: KnownCylinder | undefined): string | null {
  if (!known) return null
  if (known.status === 'in_transit') return 'ROW_ON_THE_WAY'
  if (known.status === 'scrapped' || known.status === 'lost')
    return `ROW_${known.status.toUpperCase()}`
  return known.siteId === null ? null : 'ROW_ON_SITE_ALREADY'
}

function orderReason(row: DeliveryRow, judged: Judged, takenBefore: number): string | null {
  if (!judged.ordered) return null
  const wanted = judged.ordered.get(row.sizeId)
  if (wanted !== undefined) return takenBefore < wanted ? null : 'ROW_MORE_THAN_ORDERED'
  const gas = judged.sizes.get(row.sizeId)?.gasId
  const gases = [...judged.ordered.keys()].map((sizeId) => judged.sizes.get(sizeId)?.gasId)
  return gases.includes(gas) ? 'ROW_OTHER_SIZE_THAN_ORDERED' : 'ROW_OTHER_GAS_THAN_ORDERED'
}

/** Every row that can't be received, each by its number and serial and why; several reasons a row. */
export function judgeRows(judged: Judged): Reason[] {
  const seen = new Map<string, number>()
  const taken = new Map<string, number>()
  return judged.rows.flatMap((row, index) => {
    // What stays on the truck is written down as it is, whatever is wrong with it.
    if (isRefused(row.outcome)) return []
    const known = judged.known.get(row.serial)
    const due = dueOf(row, known)
    const firstRow = seen.get(row.serial)
    const takenBefore = taken.get(row.sizeId) ?? 0
    const size = judged.sizes.get(row.sizeId)
    const codes = [
      firstRow === undefined ? null : 'ROW_TWICE',
      size ? null : 'ROW_SIZE_UNKNOWN',
      known && known.sizeId !== row.sizeId ? 'ROW_OTHER_SIZE_THAN_KNOWN' : null,
      placeReason(known),
      row.filledOn && row.filledOn > judged.today ? 'ROW_FILLED_IN_FUTURE' : null,
      testReason(row, known),
      dueReason(row, due, judged.thisMonth),
      orderReason(row, judged, takenBefore),
    ].filter((code) => code !== null)
    seen.set(row.serial, firstRow ?? index + 1)
    taken.set(row.sizeId, takenBefore + 1)
    const knownSize = known ? (judged.sizes.get(known.sizeId)?.name ?? known.sizeId) : ''
    const params = {
      row: index + 1,
      serial: row.serial,
      size: size?.name ?? row.sizeId,
      gas: size?.gasId ?? '',
      knownSize,
      firstRow: firstRow ?? 0,
      due: due ? monthText(due) : '',
      ordered: judged.ordered?.get(row.sizeId) ?? 0,
    }
    return codes.map((code) => ({ code, params }))
  })
}
