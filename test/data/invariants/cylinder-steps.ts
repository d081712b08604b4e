import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import type { TestDatabase } from '../../setup/database'
import { asRuntime, type World } from './world'

type SwapFields = Readonly<{
  on: string
  off?: string
  side?: string
  place?: number
  outfitId?: string
  leakTested?: boolean
  siteId?: string
}>

/** What the yard does with cylinders, in the world of the test that runs now. */
export function cylinderSteps(database: TestDatabase, current: () => World) {
  const asYard = <T>(work: (client: pg.PoolClient) => Promise<T>) =>
    asRuntime(database, current().operator, work)

  async function insertEvent(
    client: pg.ClientBase,
    cylinderId: string,
    kind: string,
    fields: Record<string, unknown> = {},
  ) {
    const row: Record<string, unknown> = {
      id: randomUUID(),
      cylinder_id: cylinderId,
      kind,
      site_id: current().siteId,
      person_id: current().operator,
      role_then: 'yard_hand',
      ...fields,
    }
    const names = Object.keys(row)
    await client.query(
      `INSERT INTO cylinder_events (${names.join(',')}) VALUES (${names.map((_, i) => `$${i + 1}`).join(',')})`,
      Object.values(row),
    )
  }
  const event = (cylinderId: string, kind: string, fields: Record<string, unknown> = {}) =>
    asYard((client) => insertEvent(client, cylinderId, kind, fields))

  async function newCylinder(
    gasId: 'oxygen' | 'acetylene' = 'oxygen',
    fields: Record<string, unknown> = {},
  ) {
    const cylinderId = randomUUID()
    await asYard((client) =>
      client.query(
        `INSERT INTO cylinders (id, serial, gas_id, size_id, spec, due_month) VALUES ($1::uuid, $2, $3, $4, 'DOT 3AA', $5)`,
        [
          cylinderId,
          cylinderId,
          gasId,
          gasId === 'oxygen' ? 'oxygen-244' : 'acetylene-145',
          fields.due_month ?? null,
        ],
      ),
    )
    return cylinderId
  }
  async function receivedCylinder(gasId: 'oxygen' | 'acetylene' = 'oxygen') {
    const cylinderId = await newCylinder(gasId)
    await event(cylinderId, 'received')
    return cylinderId
  }

  const swap = (fields: SwapFields) =>
    asYard(async (client) => {
      const swapId = randomUUID()
      const { on, off, side = 'oxygen', place = 1, outfitId = current().outfitId } = fields
      await client.query(
        `INSERT INTO swaps (id, site_id, outfit_id, side, off_cylinder_id, on_cylinder_id, person_id, role_then, shut_and_bled, leak_tested)
         VALUES ($1, $2, $3, $4, $5, $6, $7, 'operator', true, $8)`,
        [
          swapId,
          current().siteId,
          outfitId,
          side,
          off ?? null,
          on,
          current().operator,
          fields.leakTested ?? true,
        ],
      )
      const shared = {
        swap_id: swapId,
        outfit_id: outfitId,
        side,
        place,
        ...(fields.siteId ? { site_id: fields.siteId } : {}),
      }
      if (off) await insertEvent(client, off, 'taken_off', { ...shared, marked_empty: true })
      await insertEvent(client, on, 'put_on', shared)
    })

  async function stateOf(cylinderId: string) {
    const { rows } = await database.owner.query<{
      status: string
      outfit_id: string | null
      site_id: string | null
    }>('SELECT status, outfit_id, site_id FROM cylinders WHERE id = $1', [cylinderId])
    return rows[0]
  }
  return { asYard, event, newCylinder, receivedCylinder, swap, stateOf }
}
