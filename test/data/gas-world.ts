import { v7 as uuidv7 } from 'uuid'
import { expect } from 'vitest'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { insertSql, type Row } from '@/seed/facts'
import { insertReference } from '@/seed/reference'
import { testDatabase } from '../setup/database'

/** Inserts as the owner, past no trigger. */
export async function insert(table: string, ...rows: Row[]): Promise<void> {
  await testDatabase().owner.query(insertSql(table, rows))
}

export async function rowsOf<T>(sql: string, values: unknown[] = []): Promise<T[]> {
  return (await testDatabase().owner.query(sql, values)).rows as T[]
}

/** A person with roles at one site, as a signed-in viewer. */
export async function newViewer(siteId: string, ...roles: Role[]): Promise<Viewer> {
  const personId = uuidv7()
  await insert('people', {
    id: personId,
    name: `Person ${personId.slice(-4)}`,
    email: `${personId}@test.invalid`,
    password_hash: 'none',
  })
  for (const role of roles)
    await insert('grants', { id: uuidv7(), person_id: personId, site_id: siteId, role })
  return {
    personId,
    name: 'Person',
    grants: roles.map((role) => ({ siteId, role })),
    roles,
    units: 'us',
    clock: '24',
    theme: 'device',
  }
}

export async function newSite(
  zone = 'America/Chicago',
  deliveryDays: readonly number[] = [3],
): Promise<string> {
  const id = uuidv7()
  await insert('sites', {
    id,
    name: `Site ${id}`,
    short_name: id.slice(-4),
    kind: 'mill',
    zone,
    address: 'Pier 1',
    emergency_words: 'Call 911.',
    shift_ends: '16:30',
    delivery_days: deliveryDays,
  })
  return id
}

export async function newSupplier(): Promise<string> {
  const id = uuidv7()
  await insert('suppliers', { id, name: `Supplier ${id}`, lead_days: 2 })
  return id
}

export async function newOutfit(
  siteId: string,
  fuel: 'acetylene' | 'propane' = 'acetylene',
): Promise<string> {
  const id = uuidv7()
  await insert('outfits', { id, site_id: siteId, number: id.slice(-6), fuel_gas_id: fuel })
  return id
}

export type SizeId = 'oxygen-244' | 'oxygen-122' | 'acetylene-225' | 'propane-100'
const gasOf = (size: SizeId) => size.split('-')[0] ?? ''

export async function newCylinder(
  size: SizeId,
  facts: Readonly<{ dueMonth?: string }> = {},
): Promise<{ id: string; serial: string }> {
  const id = uuidv7()
  const serial = `${gasOf(size).slice(0, 2).toUpperCase()}-${id.slice(-8).toUpperCase()}`
  await insert('cylinders', {
    id,
    serial,
    gas_id: gasOf(size),
    size_id: size,
    spec: 'DOT 3AA',
    due_month: facts.dueMonth ?? null,
  })
  return { id, serial }
}

export type EventFacts = Readonly<
  { cylinderId: string; siteId: string; kind: string; by: Viewer } & Record<
    string,
    string | number | boolean | null | Viewer
  >
>

export async function event({
  cylinderId,
  siteId,
  kind,
  by,
  ...rest
}: EventFacts): Promise<string> {
  const id = uuidv7()
  await insert('cylinder_events', {
    id,
    cylinder_id: cylinderId,
    site_id: siteId,
    kind,
    person_id: by.personId,
    role_then: 'yard_hand',
    ...(rest as Row),
  })
  return id
}

/** A cylinder that stands full at a site. */
export async function cylinderAt(
  siteId: string,
  size: SizeId,
  by: Viewer,
): Promise<{ id: string; serial: string }> {
  const cylinder = await newCylinder(size)
  await event({ cylinderId: cylinder.id, siteId, kind: 'received', by })
  return cylinder
}

let isSet = false
/** Reference tables, the company and a price; once a file. */
export async function setCompany(): Promise<void> {
  if (isSet) return
  isSet = true
  const client = await testDatabase().owner.connect()
  await insertReference(client)
  client.release()
  await insert('company', {
    id: uuidv7(),
    name: 'Test Cutting',
    zone: 'America/New_York',
    currency: 'USD',
  })
  const supplierId = await newSupplier()
  const price = {
    supplier_id: supplierId,
    rent_minor_per_day: 25,
    currency: 'USD',
    valid_from: '2020-01-01',
  }
  await insert(
    'prices',
    { id: uuidv7(), size_id: 'oxygen-244', fill_minor: 3200, ...price },
    { id: uuidv7(), size_id: 'acetylene-225', fill_minor: 9100, ...price },
  )
}

export const refusal = (code: string) => expect.objectContaining({ code })
