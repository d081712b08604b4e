import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { DeliveryInput, HoldBatchInput, SettleInput } from '@/lib/schemas/delivery'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

type Writing = Readonly<{
  viewer: Viewer
  role: string
  input: DeliveryInput
  deliveryId: string
}>
type Short = Readonly<{ sizeId: string; ordered: number; got: number }>

/** Every row that was not as it should be, and what did not come; returns how many. */
export async function writeDifferences(
  tx: Tx,
  { viewer, role, input, deliveryId }: Writing,
  missing: readonly Short[],
): Promise<number> {
  const by = { deliveryId, siteId: input.siteId, personId: viewer.personId, roleThen: role }
  const ofRows = input.rows
    .filter((row) => row.outcome !== 'take')
    .map((row) => ({
      id: uuidv7(),
      kind: row.outcome.startsWith('held_') ? 'damaged' : row.outcome,
      serial: row.serial,
      sizeId: row.sizeId,
      batch: row.batch,
      quantity: 1,
      ...by,
    }))
  const ofOrder = missing.map((line) => ({
    id: uuidv7(),
    kind: 'short',
    sizeId: line.sizeId,
    quantity: line.ordered - line.got,
    ...by,
  }))
  const data = [...ofRows, ...ofOrder]
  if (data.length > 0) await tx.deliveryDifference.createMany({ data })
  return data.length
}

export type DifferenceRow = Readonly<{
  id: string
  kind: string
  serial: string | null
  sizeName: string | null
  gasId: string | null
  quantity: number
  batch: string | null
  note: string | null
  settled: Readonly<{ how: string; note: string | null; at: Date }> | null
}>

export type DeliveryView = Readonly<{
  id: string
  siteId: string
  siteName: string
  zone: string
  orderNumber: string | null
  supplierName: string
  receivedAt: Date
  note: string | null
  cylinders: readonly Readonly<{
    id: string
    serial: string
    gasId: string
    sizeName: string
    status: string
    batch: string | null
  }>[]
  batches: readonly string[]
  differences: readonly DifferenceRow[]
  maySettle: boolean
  mayCheckInvoice: boolean
}>

/** One delivery: what came, in which batches, and what is still to be settled. */
export async function getDelivery(viewer: Viewer, id: string): Promise<DeliveryView> {
  const found = await db.delivery.findFirst({
    where: { id, siteId: { in: sitesWhere(viewer, 'cylinder:read') } },
    select: {
      id: true,
      siteId: true,
      supplierId: true,
      note: true,
      receivedAt: true,
      order: { select: { number: true } },
      differences: {
        orderBy: [{ kind: 'asc' }, { id: 'asc' }],
        include: { settlement: { select: { how: true, note: true, at: true } } },
      },
    },
  })
  if (!found) throw new AppError('NOT_FOUND')
  const [site, supplier, sizes, cylinders] = await Promise.all([
    db.site.findUniqueOrThrow({ where: { id: found.siteId }, select: { name: true, zone: true } }),
    db.supplier.findUniqueOrThrow({ where: { id: found.supplierId }, select: { name: true } }),
    db.cylinderSize.findMany({ select: { id: true, name: true, gasId: true } }),
    db.$queryRaw<DeliveryView['cylinders'][number][]>`
      SELECT c.id, c.serial, c.gas_id AS "gasId", z.name AS "sizeName", c.status, e.batch
      FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id JOIN cylinder_sizes z ON z.id = c.size_id
      WHERE e.delivery_id = ${id}::uuid AND e.kind = 'received' AND e.site_id = ${found.siteId}::uuid ORDER BY c.serial`,
  ])
  const sizeOf = new Map(sizes.map((size) => [size.id, size]))
  return {
    id,
    siteId: found.siteId,
    siteName: site.name,
    zone: site.zone,
    orderNumber: found.order?.number ?? null,
    supplierName: supplier.name,
    receivedAt: found.receivedAt,
    note: found.note,
    cylinders,
    batches: [...new Set(cylinders.flatMap(({ batch }) => (batch ? [batch] : [])))].sort(),
    differences: found.differences.map(({ settlement, sizeId, ...row }) => ({
      id: row.id,
      kind: row.kind,
      serial: row.serial,
      quantity: row.quantity,
      batch: row.batch,
      note: row.note,
      sizeName: sizeId ? (sizeOf.get(sizeId)?.name ?? sizeId) : null,
      gasId: sizeId ? (sizeOf.get(sizeId)?.gasId ?? null) : null,
      settled: settlement,
    })),
    maySettle: can(viewer, 'cylinder:receive', found.siteId),
    mayCheckInvoice: can(viewer, 'order:confirm', found.siteId),
  }
}

/** How a difference ended with the supplier; once, and it stays. */
export async function settleDifference(
  viewer: Viewer,
  input: SettleInput,
): Promise<{ deliveryId: string }> {
  const found = await db.deliveryDifference.findFirst({
    where: { id: input.differenceId, siteId: { in: sitesWhere(viewer, 'cylinder:read') } },
    select: { siteId: true, deliveryId: true },
  })
  if (!found) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'cylinder:receive', found.siteId)
  return inTransaction(viewer, 'delivery:settle', (tx) =>
    once(tx, viewer, { key: input.key, action: 'delivery:settle', input }, async () => {
      const before = await tx.deliverySettlement.count({
        where: { differenceId: input.differenceId },
      })
      if (before > 0) throw new AppError('ALREADY_SETTLED')
      await tx.deliverySettlement.create({
        data: {
          differenceId: input.differenceId,
          siteId: found.siteId,
          how: input.how,
          note: input.note,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { differenceId: true },
      })
      return { deliveryId: found.deliveryId }
    }),
  )
}

export type BatchHeld = { deliveryId: string; held: number; onOutfits: string[] }

/**
 * A batch that turned out impure: every cylinder of it that this delivery brought and that stands
 * loose is held back at once; those that hang on outfits are named, to be taken off.
 */
export async function holdBatch(viewer: Viewer, input: HoldBatchInput): Promise<BatchHeld> {
  const delivery = await db.delivery.findFirst({
    where: { id: input.deliveryId, siteId: { in: sitesWhere(viewer, 'cylinder:read') } },
    select: { siteId: true },
  })
  if (!delivery) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'cylinder:receive', delivery.siteId)
  const by = { siteId: delivery.siteId, personId: viewer.personId, roleThen: role }
  return inTransaction(viewer, 'delivery:hold-batch', (tx) =>
    once(tx, viewer, { key: input.key, action: 'delivery:hold-batch', input }, async () => {
      const rows = await tx.$queryRaw<{ id: string; serial: string; status: string }[]>`
        SELECT c.id, c.serial, c.status FROM cylinders c
        WHERE c.batch = ${input.batch} AND c.site_id = ${delivery.siteId}::uuid
          AND EXISTS (SELECT 1 FROM cylinder_events e WHERE e.cylinder_id = c.id AND e.delivery_id = ${input.deliveryId}::uuid)
        ORDER BY c.id FOR NO KEY UPDATE`
      if (rows.length === 0) throw new AppError('BATCH_UNKNOWN', { batch: input.batch })
      const loose = rows.filter((row) => ['full', 'partial', 'empty'].includes(row.status))
      for (const row of loose)
        await tx.cylinderEvent.create({
          data: {
            id: uuidv7(),
            cylinderId: row.id,
            kind: 'quarantined',
            reason: input.reason,
            deliveryId: input.deliveryId,
            ...by,
          },
          select: { id: true },
        })
      await tx.deliveryDifference.create({
        data: {
          id: uuidv7(),
          deliveryId: input.deliveryId,
          kind: 'impure',
          batch: input.batch,
          quantity: rows.length,
          note: input.reason,
          ...by,
        },
        select: { id: true },
      })
      return {
        deliveryId: input.deliveryId,
        held: loose.length,
        onOutfits: rows.filter((row) => row.status === 'in_use').map((row) => row.serial),
      }
    }),
  )
}

export type DeliveryHead = Readonly<{
  id: string
  receivedAt: Date
  supplierName: string
  orderNumber: string | null
  /** Not settled yet. */
  open: number
}>

/** The last fifty deliveries of a site, those with something to settle first. */
export async function listDeliveries(viewer: Viewer, siteId: string): Promise<DeliveryHead[]> {
  assertCan(viewer, 'cylinder:read', siteId)
  return db.$queryRaw<DeliveryHead[]>`
    SELECT * FROM (
      SELECT d.id, d.received_at AS "receivedAt", s.name AS "supplierName", o.number AS "orderNumber",
             (SELECT count(*) FROM delivery_differences x WHERE x.delivery_id = d.id
                AND NOT EXISTS (SELECT 1 FROM delivery_settlements t WHERE t.difference_id = x.id))::int AS open
      FROM (SELECT * FROM deliveries WHERE site_id = ${siteId}::uuid ORDER BY received_at DESC, id DESC LIMIT 50) d
      JOIN suppliers s ON s.id = d.supplier_id LEFT JOIN orders o ON o.id = d.order_id) AS heads
    ORDER BY heads.open > 0 DESC, heads."receivedAt" DESC`
}
