import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import { hashSecret } from '@/lib/auth/hash'
import { testDatabase } from '../../setup/database'

/** Runs statements as the owner in one transaction of the system's, as the seed does. */
export async function asSystem<T>(work: (client: pg.PoolClient) => Promise<T>): Promise<T> {
  const client = await testDatabase().owner.connect()
  try {
    await client.query('BEGIN')
    await client.query(
      `SELECT set_config('kerf.actor_id', '', true), set_config('kerf.actor_role', 'system', true), set_config('kerf.act', 'test', true)`,
    )
    const result = await work(client)
    await client.query('COMMIT')
    return result
  } catch (error) {
    await client.query('ROLLBACK')
    throw error
  } finally {
    client.release()
  }
}

export const PASSWORD = 'two-hoses-and-a-key'
export const PIN = '730915'

export async function addSite(): Promise<string> {
  const id = randomUUID()
  await asSystem((client) =>
    client.query(
      `INSERT INTO sites (id, name, short_name, kind, zone, address, emergency_words)
       VALUES ($1, $2, $3, 'mill', 'America/Chicago', 'Dock 3', 'Call 911.')`,
      [id, `Site ${id}`, id.slice(0, 8)],
    ),
  )
  return id
}

export async function addPerson(
  siteId: string | null,
  role = 'operator',
  pin: string | null = PIN,
) {
  const id = randomUUID()
  const email = `person-${id}@crew.example`
  const [passwordHash, pinHash] = [await hashSecret(PASSWORD), pin ? await hashSecret(pin) : null]
  await asSystem(async (client) => {
    await client.query(
      'INSERT INTO people (id, name, email, password_hash, pin_hash) VALUES ($1, $2, $3, $4, $5)',
      [id, 'Some Person', email, passwordHash, pinHash],
    )
    if (siteId) await addGrant(client, id, siteId, role)
  })
  return { id, email }
}

export async function addGrant(
  client: pg.PoolClient,
  personId: string,
  siteId: string,
  role: string,
) {
  const id = randomUUID()
  await client.query('INSERT INTO grants (id, person_id, site_id, role) VALUES ($1, $2, $3, $4)', [
    id,
    personId,
    siteId,
    role,
  ])
  return id
}
