import 'server-only'
import { isGasCode } from '@/lib/calc/gas-data'
import { otherStanding } from '@/lib/calc/supply-plan-cost'
import type { PlanCell, PlanFleet, PlanProblem, PlanStorage } from '@/lib/calc/supply-plan-types'
import { convert, gasFt3FromKg } from '@/lib/calc/units'
import { storeScopes } from '@/lib/rules/finding'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import { mostInStore, STORE_GROUPS, type StoreGroup } from '@/lib/rules/store-room'
import type { LayerId } from '@/lib/rules/types'
import type { PlanRows } from './problem-rows'

const poundsKg = (pounds: number) => convert({ value: pounds, from: 'lb', to: 'kg' })
/** Own trucks go out in the first days; by then a supplier can come. */
const TRUCK_DAYS = 4
const TRUCK_HOURS_A_DAY = 8
const MOST_AT_ONCE = 40
const NEAR = 1e-6

const sum = (values: readonly number[]) => values.reduce((all, one) => all + one, 0)

/**
 * What own trucks may carry and how long they are out: within materials of trade, or as much as the largest may
 * carry by its own papers where somebody is trained to drive with shipping papers.
 */
export function fleetOf({ vehicles, trained }: PlanRows, days: number): PlanFleet {
  const { aggregateMaxLb } = STORE_RULES['dot-mot-aggregate-440'].limits
  const { grossWeightMaxLb } = STORE_RULES['dot-mot-cylinder-220'].limits
  const tradeKg = poundsKg(aggregateMaxLb)
  const payloads = vehicles.map(({ payload_kg, trailer_kg }) =>
    payload_kg === null ? null : payload_kg + trailer_kg,
  )
  const known = payloads.filter((payload) => payload !== null)
  const byDay = (drivers: (day: number) => number) =>
    Array.from({ length: days }, (_, day) =>
      day < TRUCK_DAYS ? TRUCK_HOURS_A_DAY * Math.min(vehicles.length, drivers(day)) : 0,
    )
  return {
    driverHours: byDay(() => vehicles.length),
    trainedHours: byDay((day) => trained.filter(({ until_days }) => until_days >= day).length),
    // Where nobody said what a vehicle carries, materials of trade are the least of any.
    tradeKg: Math.min(tradeKg, payloads.includes(null) ? tradeKg : Math.max(0, ...known)),
    tradeEachKg: poundsKg(grossWeightMaxLb),
    papersKg: Math.max(0, ...known),
  }
}

/** What one full cylinder counts as where amounts are counted. */
function amountOf(group: StoreGroup, gasId: string, nominalKg: number): number {
  if (STORE_GROUPS[group].unit === 'lb') return convert({ value: nominalKg, from: 'kg', to: 'lb' })
  return isGasCode(gasId) ? gasFt3FromKg(gasId, nominalKg) : 0
}

/**
 * The most of each group of gases on each site, by the texts in force there and the areas where they stand now.
 * Where more stands there already the limit is what stands: a plan can't undo it, but adds nothing.
 */
export function storageOf(
  { sites, sizes, stores, layers }: PlanRows,
  cells: readonly PlanCell[],
): PlanStorage[] {
  const nominalOf = new Map(sizes.map((size) => [size.id, size.nominal_kg]))
  return sites.flatMap(({ id: siteId }) => {
    const scopes = storeScopes(
      layers.filter((row) => row.siteId === siteId).map((row) => row.rulesetId as LayerId),
    )
    return (Object.keys(STORE_GROUPS) as StoreGroup[]).flatMap((group): PlanStorage[] => {
      const gasIds: readonly string[] = STORE_GROUPS[group].gasIds
      const here = cells.filter((cell) => cell.siteId === siteId && gasIds.includes(cell.gasId))
      if (here.length === 0) return []
      const own = stores.filter((row) => row.site_id === siteId && gasIds.includes(row.gas_id))
      const places = own.length > 0 ? own : [{ indoors: false, sprinklers: false }]
      const rooms = places.map(({ indoors, sprinklers }) =>
        mostInStore({ isIndoors: indoors, isSprinklered: sprinklers }, group, scopes),
      )
      if (rooms.includes(null)) return []
      const eachOf = Object.fromEntries(
        here.map(({ sizeId, gasId }) => [
          sizeId,
          amountOf(group, gasId, nominalOf.get(sizeId) ?? 0),
        ]),
      )
      const there = here.map(
        (cell) =>
          (cell.full + otherStanding(cell, 0) + sum(cell.fixedIn)) * (eachOf[cell.sizeId] ?? 0),
      )
      const most = sum(rooms.filter((room) => room !== null))
      return [{ siteId, gasIds, most: Math.max(most, sum(there)) + NEAR, eachOf }]
    })
  })
}

/** How many must be there at once, by day: what planned work needs side by side so that none is drawn too hard. */
export function manifoldsOf(
  { manifolds }: PlanRows,
  { days, shortPerDay }: { days: number; shortPerDay: number },
): PlanProblem['manifolds'] {
  const keys = [...new Set(manifolds.map((row) => `${row.site_id}|${row.gas_id}`))]
  return keys.map((key) => {
    const own = manifolds.filter((row) => `${row.site_id}|${row.gas_id}` === key)
    const [siteId = '', gasId = ''] = key.split('|')
    return {
      siteId,
      gasId,
      shortPerDay,
      least: Array.from({ length: days }, (_, day) =>
        Math.min(
          MOST_AT_ONCE,
          sum(
            own.filter((row) => row.from_days <= day && day <= row.to_days).map((row) => row.least),
          ),
        ),
      ),
    }
  })
}
