import { v7 as uuidv7 } from 'uuid'
import { type Db, databaseNow, playNow } from '../play'
import { type Doing, writeRow, writeSetUp } from '../records/scribe'
import { addDays, localDay } from '../zones'

type BuiltOrder = Readonly<{ id: string; number: string; supplierId: string }>

/** A confirmed order of four oxygen cylinders that comes in three days, from a supplier of its own. */
export async function buildOrder(
  db: Db,
  { siteId, managerId }: Readonly<{ siteId: string; managerId: string }>,
): Promise<BuiltOrder> {
  const [id, supplierId] = [uuidv7(), uuidv7()]
  const order = { id, number: `T-${id.slice(-10).toUpperCase()}` }
  const doing: Doing = { atMs: 0, personId: managerId, role: 'shop_manager' }
  const dueOn = addDays(localDay('UTC', await databaseNow(db)), 3)
  await playNow(db, (scribe) => {
    writeSetUp(scribe, 0, 'suppliers', {
      id: supplierId,
      name: `Supplier ${id.slice(-10)}`,
      lead_days: 2,
      order_email: `orders-${id.slice(-10)}@test.invalid`,
    })
    writeRow(scribe, doing, 'order:confirm', 'orders', {
      ...order,
      site_id: siteId,
      supplier_id: supplierId,
      due_on: dueOn,
      reason: { json: { gases: [] } },
      confirmed_by: managerId,
    })
    writeRow(scribe, doing, 'order:confirm', 'order_lines', {
      id: uuidv7(),
      order_id: id,
      site_id: siteId,
      size_id: 'oxygen-244',
      quantity: 4,
      fill_minor: 3200,
    })
  })
  return { ...order, supplierId }
}
