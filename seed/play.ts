import type { ClientBase, Pool, PoolClient } from 'pg'
import { v7 as uuidv7 } from 'uuid'
import { type ActorThen, actorSql, type Fact, factSql } from './facts'
import type { Scribe } from './records/scribe'

/** A pool or one connection, as the owner or, where the runtime role may, as that. */
export type Db = Pool | ClientBase

const isPool = (db: Db): db is Pool => 'totalCount' in db

async function withConnection<T>(db: Db, work: (client: ClientBase) => Promise<T>): Promise<T> {
  if (!isPool(db)) return work(db)
  const client: PoolClient = await db.connect()
  try {
    return await work(client)
  } finally {
    client.release()
  }
}

const isSameActor = (a: ActorThen | null, b: ActorThen) =>
  a?.personId === b.personId && a.role === b.role && a.act === b.act

/** Groups of facts in a row by one actor: a transaction each, as the app would have made. */
function byActor(facts: readonly Fact[]): Fact[][] {
  const groups: Fact[][] = []
  for (const fact of facts) {
    const last = groups.at(-1)
    if (last && isSameActor(last[0]?.by ?? null, fact.by)) last.push(fact)
    else groups.push([fact])
  }
  return groups
}

async function playGroup(client: ClientBase, facts: readonly Fact[]): Promise<void> {
  const [first] = facts
  if (!first) return
  await client.query('BEGIN')
  try {
    await client.query(actorSql(first.by))
    for (const fact of facts) await client.query(factSql(fact))
    await client.query('COMMIT')
  } catch (error) {
    await client.query('ROLLBACK')
    throw error
  }
}

/** Records facts now, by the database's clock, through the same triggers as the app's. */
export async function playNow<T>(db: Db, tell: (scribe: Scribe) => T): Promise<T> {
  const facts: Fact[] = []
  const scribe: Scribe = {
    newId: () => uuidv7(),
    write: (fact) => {
      facts.push(fact)
    },
  }
  const result = tell(scribe)
  await withConnection(db, async (client) => {
    for (const group of byActor(facts)) await playGroup(client, group)
  })
  return result
}

/** The database's clock, moved or not. */
export async function databaseNow(db: Db): Promise<number> {
  const { rows } = await db.query<{ ms: string }>('SELECT kerf_ms(kerf_now()) AS ms')
  return Number(rows[0]?.ms)
}
