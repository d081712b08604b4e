import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { listCylinderEvents } from '@/lib/data/cylinders-history'
import { listCylinders } from '@/lib/data/cylinders-list'
import { swapCylinder } from '@/lib/data/swaps'
import { cylinderFilterSchema } from '@/lib/schemas/cylinder'
import type { ActName } from './fleet-ask'
import {
  BARE_HISTORY,
  bareList,
  SWAP_ACTOR,
  SWAP_ENDS,
  SWAP_EVENTS,
  SWAP_PAIR,
  SWAP_ROW,
} from './fleet-sql'

export type Act = Readonly<{ ours: () => Promise<unknown>; bare: () => Promise<unknown> }>

/** The site that has most, and somebody with every role there. */
export async function worldOf(client: pg.Client): Promise<{ siteId: string; viewer: Viewer }> {
  const { rows: most } = await client.query<{ site_id: string }>(
    'SELECT site_id FROM site_stock GROUP BY site_id ORDER BY sum(cylinders) DESC, site_id LIMIT 1',
  )
  const siteId = most[0]?.site_id ?? ''
  const { rows } = await client.query<{ person_id: string }>(
    'SELECT person_id FROM grants WHERE site_id = $1 LIMIT 1',
    [siteId],
  )
  const roles: Role[] = ['foreman', 'yard_hand', 'shop_manager']
  const viewer: Viewer = {
    personId: rows[0]?.person_id ?? '',
    name: 'Bench',
    grants: roles.map((role) => ({ siteId, role })),
    roles,
    units: 'us',
    clock: '24',
    theme: 'device',
  }
  return { siteId, viewer }
}

/** Each act as the app does it and as bare statements do it, on one connection of its own. */
export async function actsOf(client: pg.Client): Promise<Record<ActName, Act>> {
  const { siteId, viewer } = await worldOf(client)
  const listed = (filter: Record<string, string>, where: string, values: readonly string[]) => ({
    ours: () => listCylinders(viewer, siteId, cylinderFilterSchema.parse(filter)),
    bare: () => client.query(bareList(where), [siteId, ...values]),
  })
  const { rows } = await client.query<{ serial: string }>(
    'SELECT serial FROM cylinders WHERE site_id = $1 ORDER BY serial LIMIT 1 OFFSET 20',
    [siteId],
  )
  // Long enough to find as many at a site of 250 as at one of 2,500.
  const part = rows[0]?.serial.slice(-5) ?? ''
  const { swap, cylinderId } = await swapsOf(client, viewer, siteId)
  return {
    list: listed({}, '', []),
    filter: listed({ gas: 'oxygen', status: 'full' }, 'AND c.gas_id = $2 AND c.status = $3', [
      'oxygen',
      'full',
    ]),
    search: listed({ part }, 'AND c.serial LIKE $2', [`%${part}%`]),
    swap,
    // The one that the swaps were of: its events have entries in the record.
    history: {
      ours: () => listCylinderEvents(viewer, cylinderId, null),
      bare: () => client.query(BARE_HISTORY, [cylinderId, [siteId]]),
    },
  }
}

const READ = { kind: 'gauge', gaugePressureKpa: 9_000, temperatureK: 293.15 } as const

/** Two cylinders of one gas that take turns on one outfit. */
async function swapsOf(client: pg.Client, viewer: Viewer, siteId: string) {
  const { rows } = await client.query<{
    outfit_id: string
    on_id: string
    on_serial: string
    spare_id: string
    spare_serial: string
  }>(SWAP_PAIR, [siteId])
  const pair = rows[0]
  if (!pair) throw new Error('no outfit has a spare at this site')
  const first = { id: pair.on_id, serial: pair.on_serial }
  const second = { id: pair.spare_id, serial: pair.spare_serial }
  let hanging = first
  const ends = () => {
    const off = hanging
    hanging = off === first ? second : first
    return { off, on: hanging }
  }
  const ours = () => {
    const { off, on } = ends()
    return swapCylinder(viewer, {
      key: randomUUID(),
      outfitId: pair.outfit_id,
      side: 'oxygen',
      place: 1,
      permitId: null,
      offCylinderId: off.id,
      markedEmpty: false,
      onSerial: on.serial,
      shutAndBled: true,
      leakTested: true,
      foundOn: false,
      reason: null,
      offReading: READ,
    })
  }
  const bare = async () => {
    const { off, on } = ends()
    const [swapId, outfitId, by] = [randomUUID(), pair.outfit_id, viewer.personId]
    await client.query(SWAP_ENDS, [outfitId, on.serial, off.id, [siteId]])
    await client.query('BEGIN')
    await client.query(SWAP_ACTOR, [by])
    await client.query(SWAP_ROW, [swapId, siteId, outfitId, off.id, on.id, by])
    await client.query(SWAP_EVENTS, [off.id, on.id, siteId, outfitId, swapId, by])
    await client.query('COMMIT')
  }
  return { swap: { ours, bare }, cylinderId: first.id }
}
