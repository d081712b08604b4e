import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import { type DeliveryInput, isRefused } from '@/lib/schemas/delivery'
import { db } from './client'
import { once } from './client-keys'
import { dayOf, monthStart, readNow } from './cylinders'
import { writeDifferences } from './deliveries-differences'
import { judgeRows, type KnownCylinder, type SizeChoice } from './deliveries-rows'
import { roleThen } from './role-then'
import { type Brought, guardStorage } from './storage-moves'
import { inTransaction, type Tx } from './tx'

const MOST_ORDERS = 50

export type OpenOrder = Readonly<{
  id: string
  number: string
  supplierId: string
  supplierName: string
  dueOn: Date
  lines: readonly { sizeId: string; sizeName: string; gasId: string; quantity: number }[]
}>

export type DeliveryChoices = Readonly<{
  orders: readonly OpenOrder[]
  sizes: readonly SizeChoice[]
  suppliers: readonly { id: string; name: string }[]
  areas: readonly { id: string; name: string }[]
  siteName: string
  today: Date
}>

/** Every size, those that the site has most of first. */
async function readSizes(siteId: string): Promise<SizeChoice[]> {
  const [sizes, counted] = await Promise.all([
    db.cylinderSize.findMany({
      orderBy: { id: 'asc' },
      select: { id: true, name: true, gasId: true },
    }),
    db.cylinder.groupBy({ by: ['sizeId'], where: { siteId }, _count: { _all: true } }),
  ])
  const counts = new Map(counted.map((row) => [row.sizeId, row._count._all]))
  return sizes.sort((a, b) => (counts.get(b.id) ?? 0) - (counts.get(a.id) ?? 0))
}

/** What a delivery at a site can be counted against. */
export async function deliveryChoices(viewer: Viewer, siteId: string): Promise<DeliveryChoices> {
  assertCan(viewer, 'cylinder:receive', siteId)
  const [orders, sizes, suppliers, areas, site, now] = await Promise.all([
    db.order.findMany({
      where: { siteId, state: 'confirmed' },
      orderBy: [{ dueOn: 'asc' }, { id: 'asc' }],
      take: MOST_ORDERS,
      select: {
        id: true,
        number: true,
        supplierId: true,
        dueOn: true,
        supplier: { select: { name: true } },
        lines: { select: { sizeId: true, quantity: true } },
      },
    }),
    readSizes(siteId),
    db.supplier.findMany({ orderBy: { name: 'asc' }, select: { id: true, name: true }, take: 100 }),
    db.area.findMany({
      where: { siteId },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    db.site.findUniqueOrThrow({ where: { id: siteId }, select: { name: true } }),
    readNow(),
  ])
  const sizeOf = new Map(sizes.map((size) => [size.id, size]))
  return {
    orders: orders.map(({ supplier, lines, ...order }) => ({
      ...order,
      supplierName: supplier.name,
      lines: lines.map((line) => ({
        ...line,
        sizeName: sizeOf.get(line.sizeId)?.name ?? line.sizeId,
        gasId: sizeOf.get(line.sizeId)?.gasId ?? '',
      })),
    })),
    sizes,
    suppliers,
    areas,
    siteName: site.name,
    today: now,
  }
}

export type Received = {
  deliveryId: string
  received: number
  /** Sizes that an order named and that did not all come. */
  short: { sizeId: string; ordered: number; got: number }[]
  /** What is to be settled with the supplier. */
  differences: number
}

async function findOrder(tx: Tx, input: DeliveryInput) {
  if (input.orderId === null) return null
  // The order's row is locked, so that two people can't receive it at once.
  await tx.$queryRaw`SELECT id FROM orders WHERE id = ${input.orderId}::uuid FOR UPDATE`
  const order = await tx.order.findFirst({
    where: { id: input.orderId, siteId: input.siteId },
    select: {
      id: true,
      state: true,
      number: true,
      supplierId: true,
      lines: { select: { sizeId: true, quantity: true } },
    },
  })
  if (!order) throw new AppError('NOT_FOUND')
  if (order.state !== 'confirmed') throw new AppError('ORDER_NOT_OPEN', { number: order.number })
  return order
}

/** What did not come is told and ordered anew: an order is not delivered by halves. */
async function closeOrder(tx: Tx, orderId: string): Promise<void> {
  await tx.order.updateMany({
    where: { id: orderId, state: 'confirmed' },
    data: { state: 'delivered', version: { increment: 1 } },
  })
}

function quantities(lines: readonly { sizeId: string; quantity: number }[]): Map<string, number> {
  const bySize = new Map<string, number>()
  for (const line of lines) bySize.set(line.sizeId, (bySize.get(line.sizeId) ?? 0) + line.quantity)
  return bySize
}

async function readKnown(tx: Tx, input: DeliveryInput): Promise<Map<string, KnownCylinder>> {
  const rows = await tx.cylinder.findMany({
    where: { serial: { in: input.rows.map((row) => row.serial) } },
    orderBy: { id: 'asc' }, // the triggers lock them one by one: always in the same order
    select: { id: true, serial: true, sizeId: true, siteId: true, status: true, dueMonth: true },
  })
  return new Map(rows.map((row) => [row.serial, row]))
}

const taken = (input: DeliveryInput) => input.rows.filter((row) => !isRefused(row.outcome))

type Writing = Readonly<{
  viewer: Viewer
  role: string
  input: DeliveryInput
  deliveryId: string
  supplierId: string
  known: ReadonlyMap<string, KnownCylinder>
}>

/** A serial that the company has never seen is a new cylinder: its size is what the person says. */
async function addUnknown(
  tx: Tx,
  { input, known, supplierId }: Writing,
  sizes: ReadonlyMap<string, SizeChoice>,
): Promise<Map<string, string>> {
  const fresh = taken(input).filter((row) => !known.has(row.serial))
  const ids = new Map(fresh.map((row) => [row.serial, uuidv7()]))
  if (fresh.length > 0) {
    await tx.cylinder.createMany({
      data: fresh.map((row) => ({
        id: ids.get(row.serial) ?? '',
        serial: row.serial,
        gasId: sizes.get(row.sizeId)?.gasId ?? '',
        sizeId: row.sizeId,
        spec: '',
        supplierId,
        dueMonth: row.dueMonth,
        requalifiedOn: row.requalifiedOn,
      })),
    })
  }
  return ids
}

async function writeEvents(
  tx: Tx,
  writing: Writing,
  fresh: ReadonlyMap<string, string>,
): Promise<void> {
  const { viewer, role, input, deliveryId, known } = writing
  const rows = taken(input).map((row) => ({
    ...row,
    cylinderId: known.get(row.serial)?.id ?? fresh.get(row.serial) ?? '',
  }))
  rows.sort((a, b) => (a.cylinderId < b.cylinderId ? -1 : 1))
  const by = { siteId: input.siteId, deliveryId, personId: viewer.personId, roleThen: role }
  for (const row of rows) {
    if (row.requalifiedOn && known.has(row.serial)) {
      await tx.cylinderEvent.create({
        data: {
          id: uuidv7(),
          cylinderId: row.cylinderId,
          kind: 'requalified',
          requalifiedOn: row.requalifiedOn,
          dueMonth: row.dueMonth,
          ...by,
        },
        select: { id: true },
      })
    }
    await tx.cylinderEvent.create({
      data: {
        id: uuidv7(),
        cylinderId: row.cylinderId,
        kind: 'received',
        areaId: input.areaId,
        filledOn: row.filledOn,
        batch: row.batch,
        condition: row.outcome.startsWith('held_') ? row.outcome.slice('held_'.length) : null,
        ...by,
      },
      select: { id: true },
    })
  }
}

const short = (ordered: ReadonlyMap<string, number>, got: ReadonlyMap<string, number>) =>
  [...ordered]
    .map(([sizeId, quantity]) => ({ sizeId, ordered: quantity, got: got.get(sizeId) ?? 0 }))
    .filter((line) => line.got < line.ordered)

/** What is taken in and put down at once; the rest stays on the truck. */
function broughtBy(
  input: DeliveryInput,
  known: ReadonlyMap<string, KnownCylinder>,
  role: string,
): Brought {
  const rows = taken(input)
  return {
    siteId: input.siteId,
    areaId: input.areaId,
    cylinderIds: rows.flatMap((row) => known.get(row.serial)?.id ?? []),
    sizes: rows
      .filter((row) => !known.has(row.serial))
      .map((row) => ({ sizeId: row.sizeId, holds: 1 })),
    isConfirmed: input.storageConfirmed,
    role,
  }
}

function refuseRows(reasons: readonly Reason[]): void {
  if (reasons.length > 0)
    throw new AppError('DELIVERY_ROWS_REFUSED', { count: reasons.length }, reasons)
}

/**
 * Receives what came off a truck. Every row that can't be taken is named with its reason and nothing
 * is kept until all can: a delivery is one fact. What the order named and did not come is told.
 */
export async function receiveDelivery(viewer: Viewer, input: DeliveryInput): Promise<Received> {
  const role = roleThen(viewer, 'cylinder:receive', input.siteId)
  const [sizeRows, site, now] = await Promise.all([
    db.cylinderSize.findMany({ select: { id: true, name: true, gasId: true } }),
    db.site.findUniqueOrThrow({ where: { id: input.siteId }, select: { zone: true } }),
    readNow(),
  ])
  const sizes = new Map(sizeRows.map((size) => [size.id, size]))
  return inTransaction(viewer, 'delivery:receive', (tx) =>
    once(tx, viewer, { key: input.key, action: 'delivery:receive', input }, async () => {
      const order = await findOrder(tx, input)
      const known = await readKnown(tx, input)
      const ordered = order ? quantities(order.lines) : null
      refuseRows(
        judgeRows({
          rows: input.rows,
          known,
          sizes,
          ordered,
          siteId: input.siteId,
          today: dayOf(now, site.zone),
          thisMonth: monthStart(now, site.zone),
        }),
      )
      await guardStorage(tx, viewer, broughtBy(input, known, role))
      const supplierId = order?.supplierId ?? input.supplierId
      if (!supplierId) throw new AppError('SUPPLIER_UNKNOWN')
      const deliveryId = uuidv7()
      await tx.delivery.create({
        data: {
          id: deliveryId,
          siteId: input.siteId,
          orderId: order?.id ?? null,
          supplierId,
          note: input.note,
          receivedBy: viewer.personId,
        },
        select: { id: true },
      })
      if (order) await closeOrder(tx, order.id)
      const writing = { viewer, role, input, deliveryId, supplierId, known }
      await writeEvents(tx, writing, await addUnknown(tx, writing, sizes))
      const got = quantities(taken(input).map((row) => ({ sizeId: row.sizeId, quantity: 1 })))
      const missing = ordered ? short(ordered, got) : []
      const differences = await writeDifferences(tx, writing, missing)
      return { deliveryId, received: taken(input).length, short: missing, differences }
    }),
  )
}
