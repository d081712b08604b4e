import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { DelayOrderInput } from '@/lib/schemas/order'
import { db } from '../client'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'

export type OpenOrder = Readonly<{
  id: string
  number: string
  siteId: string
  siteName: string
  supplierName: string
  dueOn: string
  lines: readonly Readonly<{ sizeId: string; sizeName: string; gasId: string; quantity: number }>[]
  /** The supplier's last word that it comes later. */
  delay: Readonly<{ days: number; wasOn: string; reason: string; personName: string }> | null
}>

/** Orders that are confirmed and have not come; the caller has settled that the viewer may see them. */
export function readOpenOrders(siteIds: readonly string[]): Promise<OpenOrder[]> {
  return db.$queryRaw<OpenOrder[]>`
    SELECT o.id, o.number, o.site_id AS "siteId", s.short_name AS "siteName", u.name AS "supplierName",
           to_char(o.due_on, 'YYYY-MM-DD') AS "dueOn",
           (SELECT coalesce(jsonb_agg(jsonb_build_object('sizeId', z.id, 'sizeName', z.name, 'gasId', z.gas_id, 'quantity', l.quantity) ORDER BY z.id), '[]')
            FROM order_lines l JOIN cylinder_sizes z ON z.id = l.size_id WHERE l.order_id = o.id) AS lines,
           (SELECT jsonb_build_object('days', d.days, 'wasOn', to_char(d.was_on, 'YYYY-MM-DD'), 'reason', d.reason, 'personName', p.name)
            FROM order_delays d JOIN people p ON p.id = d.person_id WHERE d.order_id = o.id ORDER BY d.at DESC, d.id DESC LIMIT 1) AS delay
    FROM orders o JOIN sites s ON s.id = o.site_id JOIN suppliers u ON u.id = o.supplier_id
    WHERE o.site_id = ANY(${siteIds}::uuid[]) AND o.state = 'confirmed'
    ORDER BY o.due_on, o.id LIMIT 100`
}

/** Takes down that an order comes later than its day; the next plan is drawn from the new one. */
export async function delayOrder(
  viewer: Viewer,
  { key, orderId, days, reason }: DelayOrderInput,
): Promise<{ id: string; dueOn: string }> {
  const order = await db.order.findUnique({ where: { id: orderId }, select: { siteId: true } })
  if (!order) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'order:confirm', order.siteId)
  const input = { key, orderId, days, reason }
  return inTransaction(viewer, 'order:delay', (tx) =>
    once(tx, viewer, { key, action: 'order:delay', input }, async () => {
      const id = uuidv7()
      const stamp = new Date(0) // site and days are the trigger's
      const { dueOn } = await tx.orderDelay.create({
        data: {
          id,
          orderId,
          days,
          reason,
          siteId: order.siteId,
          wasOn: stamp,
          dueOn: stamp,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { dueOn: true },
      })
      return { id, dueOn: dueOn.toISOString().slice(0, 10) }
    }),
  )
}
