import type { Row } from '../facts'
import { type CylinderEvent, writeCylinderEvents } from '../records/cylinder'
import type { Doing } from '../records/scribe'
import { writeChange, writeRow } from '../records/scribe'
import { type SizeId, sizeOf } from '../reference'
import { addDays, atLocal, weekdayOf } from '../zones'
import { TEAMS } from './people'
import { type SiteKey, siteOf } from './places'
import { asDelivered, observedColumns } from './readings'
import { fillMinorOf, leadDaysOf, supplierIdOf, supplierOf } from './suppliers'
import { areaId, type Bottle, personId, type SupplierKey, type World } from './world'

/** At `low` full ones or fewer, the manager orders up to `upTo`. */
export const STOCK_POLICY: readonly Readonly<{
  site: SiteKey
  size: SizeId
  low: number
  upTo: number
}>[] = [
  { site: 'mill', size: 'oxygen-244', low: 7, upTo: 14 },
  { site: 'mill', size: 'acetylene-225', low: 2, upTo: 5 },
  { site: 'harbor', size: 'oxygen-244', low: 7, upTo: 12 },
  { site: 'harbor', size: 'propane-100', low: 2, upTo: 4 },
  { site: 'viaduct', size: 'oxygen-244', low: 8, upTo: 14 },
  { site: 'viaduct', size: 'acetylene-225', low: 2, upTo: 5 },
  { site: 'dam', size: 'oxygen-244', low: 5, upTo: 9 },
  { site: 'dam', size: 'propane-100', low: 1, upTo: 3 },
  { site: 'depot', size: 'oxygen-330', low: 5, upTo: 9 },
  { site: 'depot', size: 'acetylene-130', low: 2, upTo: 4 },
  { site: 'yard', size: 'oxygen-244', low: 6, upTo: 14 },
  { site: 'yard', size: 'oxygen-122', low: 2, upTo: 4 },
  { site: 'yard', size: 'acetylene-225', low: 3, upTo: 6 },
  { site: 'yard', size: 'acetylene-130', low: 2, upTo: 3 },
]

export type OpenOrder = Readonly<{
  id: string
  number: string
  site: SiteKey
  supplier: SupplierKey
  dueDay: string
  lines: readonly Readonly<{ size: SizeId; quantity: number }>[]
}>

/** Who takes in and sends off at a site. */
export const keeperOf = (site: SiteKey): Readonly<{ key: string }> => ({
  key: site === 'yard' ? 'otis' : TEAMS[site].foreman,
})

/** Full ones in the rack, oldest first; `byMs` leaves out what a later truck brings. */
export function fullAt(
  world: World,
  site: SiteKey,
  size: SizeId,
  byMs = Number.POSITIVE_INFINITY,
): Bottle[] {
  return world.bottles
    .filter(
      (bottle) =>
        bottle.site === site &&
        bottle.sizeId === size &&
        bottle.rig === null &&
        bottle.believed === 'full' &&
        bottle.arrivedMs <= byMs,
    )
    .sort((a, b) => a.arrivedMs - b.arrivedMs || a.serial.localeCompare(b.serial))
}

export function nextDeliveryDay(site: SiteKey, fromDay: string): string {
  const days = siteOf(site).deliveryDays
  for (let ahead = 0; ahead < 7; ahead += 1) {
    const day = addDays(fromDay, ahead)
    if (days.includes(weekdayOf(day))) return day
  }
  return fromDay
}

/** What a site is short of by its policy, one list a supplier. */
export function shortfall(
  world: World,
  site: SiteKey,
  isFirst: boolean,
): Map<SupplierKey, { size: SizeId; quantity: number }[]> {
  const bySupplier = new Map<SupplierKey, { size: SizeId; quantity: number }[]>()
  for (const policy of STOCK_POLICY.filter((row) => row.site === site)) {
    const full = fullAt(world, site, policy.size).length
    if (full > (isFirst ? policy.upTo - 1 : policy.low)) continue
    const supplier = supplierOf(policy.size)
    bySupplier.set(supplier, [
      ...(bySupplier.get(supplier) ?? []),
      { size: policy.size, quantity: policy.upTo - full },
    ])
  }
  return bySupplier
}

/** The manager confirms an order. */
export function placeOrder(
  world: World,
  order: Readonly<{
    site: SiteKey
    supplier: SupplierKey
    lines: OpenOrder['lines']
    atMs: number
    day: string
    number: string
  }>,
): OpenOrder {
  const { site, supplier, lines, atMs, number } = order
  const id = world.scribe.newId(atMs)
  const dueDay = nextDeliveryDay(site, addDays(order.day, leadDaysOf(supplier)))
  const doing: Doing = { atMs, personId: personId(world, 'jo'), role: 'shop_manager' }
  writeRow(world.scribe, doing, 'order:confirm', 'orders', {
    id,
    site_id: world.siteIds[site],
    supplier_id: supplierIdOf(supplier),
    number,
    due_on: dueDay,
    reason: { json: { why: 'stock_below_level', lines } },
    confirmed_by: doing.personId,
  })
  const rows = lines.map(
    ({ size, quantity }): Row => ({
      id: world.scribe.newId(atMs),
      order_id: id,
      site_id: world.siteIds[site],
      size_id: size,
      quantity,
      fill_minor: fillMinorOf(size),
    }),
  )
  writeRow(world.scribe, doing, 'order:confirm', 'order_lines', ...rows)
  return { id, number, site, supplier, dueDay, lines }
}

function takeFromFiller(world: World, size: SizeId, quantity: number, day: string): Bottle[] {
  return world.bottles
    .filter(
      (bottle) =>
        bottle.site === null &&
        bottle.sizeId === size &&
        bottle.backFrom <= day &&
        bottle.dueMonth > day,
    )
    .sort((a, b) =>
      a.backFrom === b.backFrom
        ? a.serial.localeCompare(b.serial)
        : a.backFrom < b.backFrom
          ? -1
          : 1,
    )
    .slice(0, quantity)
}

/** The supplier's truck: full ones come, empty ones go back with it. */
export function receiveDelivery(world: World, order: OpenOrder, atMs: number, day: string): void {
  const { site } = order
  const siteId = world.siteIds[site]
  const doing: Doing = { atMs, personId: personId(world, keeperOf(site).key), role: 'yard_hand' }
  const deliveryId = world.scribe.newId(atMs)
  writeRow(world.scribe, doing, 'cylinder:receive', 'deliveries', {
    id: deliveryId,
    site_id: siteId,
    order_id: order.id,
    supplier_id: supplierIdOf(order.supplier),
    note: null,
    received_by: doing.personId,
  })
  writeChange(world.scribe, doing, 'cylinder:receive', {
    table: 'orders',
    id: order.id,
    set: { state: 'delivered' },
  })
  const filledOn = addDays(day, -2)
  const received: CylinderEvent[] = []
  for (const { size, quantity } of order.lines) {
    for (const bottle of takeFromFiller(world, size, quantity, day)) {
      bottle.gasKg =
        sizeOf(size).nominalKg *
        (1 + Math.max(-0.04, Math.min(0.03, world.chance.normal(0, 0.012))))
      bottle.site = site
      bottle.believed = 'full'
      bottle.arrivedMs = atMs
      const columns: Row = {
        delivery_id: deliveryId,
        area_id: site === 'yard' ? areaId(world, 'yard', 'lot') : null,
        filled_on: filledOn,
        ...observedColumns(asDelivered(size)),
      }
      received.push({ kind: 'received', cylinderId: bottle.id, siteId, columns })
    }
  }
  writeCylinderEvents(world.scribe, doing, received)
  returnEmpties(world, {
    site,
    supplier: order.supplier,
    atMs: atMs + 10 * 60_000,
    day,
    deliveryId,
  })
}

function returnEmpties(
  world: World,
  trip: Readonly<{
    site: SiteKey
    supplier: SupplierKey
    atMs: number
    day: string
    deliveryId: string
  }>,
): void {
  const { site, supplier, atMs, day, deliveryId } = trip
  const empties = world.bottles.filter(
    (bottle) =>
      bottle.site === site &&
      bottle.rig === null &&
      bottle.believed === 'empty' &&
      bottle.supplier === supplier,
  )
  const doing: Doing = { atMs, personId: personId(world, keeperOf(site).key), role: 'yard_hand' }
  const siteId = world.siteIds[site]
  writeCylinderEvents(
    world.scribe,
    doing,
    empties.map((bottle) => ({
      kind: 'returned',
      cylinderId: bottle.id,
      siteId,
      columns: { delivery_id: deliveryId },
    })),
  )
  for (const bottle of empties) {
    bottle.site = null
    bottle.backFrom = addDays(day, 4)
  }
}

export const deliveryMs = (site: SiteKey, day: string): number =>
  atLocal(siteOf(site).zone, day, 9 * 60 + 20)

/** What a site keeps of its full ones before a lull; the rest goes back, so that no rent is paid on it. */
export function sendBack(
  world: World,
  site: SiteKey,
  size: SizeId,
  keep: number,
  day: string,
): void {
  const spare = fullAt(world, site, size).slice(keep)
  const doing: Doing = {
    atMs: atLocal(siteOf(site).zone, day, 19 * 60 + 30),
    personId: personId(world, keeperOf(site).key),
    role: 'yard_hand',
  }
  const siteId = world.siteIds[site]
  writeCylinderEvents(
    world.scribe,
    doing,
    spare.map((bottle) => ({
      kind: 'returned',
      cylinderId: bottle.id,
      siteId,
      columns: { reason: 'Not needed before the next job' },
    })),
  )
  for (const bottle of spare) {
    bottle.site = null
    bottle.backFrom = addDays(day, 4)
  }
}
