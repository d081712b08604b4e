import type { ClientBase } from 'pg'

const SETTING = 'kerf.seed_now'

/** The instant that `kerf_now()` answers while history is played. */
export const clockSql = (atMs: number): string =>
  `SELECT set_config('${SETTING}', '${new Date(atMs).toISOString()}', true)`

async function definitionOf(client: ClientBase): Promise<string> {
  const { rows } = await client.query<{ definition: string }>(
    `SELECT pg_get_functiondef('public.kerf_now()'::regprocedure) AS definition`,
  )
  const definition = rows[0]?.definition ?? ''
  if (!/clock_timestamp\(\)/i.test(definition))
    throw new Error('kerf_now() is not the shipped one: nothing was seeded')
  return definition
}

/**
 * Runs `work` in a transaction in which `kerf_now()` reads a setting. Only the owner can, nobody else
 * ever sees the other clock, and what commits has the shipped one back, to the letter.
 */
export async function withSetClock<T>(client: ClientBase, work: () => Promise<T>): Promise<T> {
  await client.query('BEGIN')
  try {
    const shipped = await definitionOf(client)
    await client.query(
      shipped.replace(/clock_timestamp\(\)/gi, `current_setting('${SETTING}')::timestamptz`),
    )
    const result = await work()
    await client.query(shipped)
    await client.query('COMMIT')
    return result
  } catch (error) {
    await client.query('ROLLBACK')
    throw error
  }
}
