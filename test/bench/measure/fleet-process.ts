/**
 * One fleet in a process of its own: the app's client opens one database a process, and its memory
 * should be nobody else's. Asked over IPC, one thing at a time.
 */
import pg from 'pg'
import { actsOf } from './fleet-acts'
import type { Asked } from './fleet-ask'
import { importFleet } from './fleet-import'

process.on('disconnect', () => process.exit(1))
const client = new pg.Client({ connectionString: process.env.KERFWATCH_DATABASE_URL })
await client.connect()
const acts = await actsOf(client)

async function answer(asked: Asked): Promise<unknown> {
  if ('count' in asked) return importFleet(client, asked)
  const act = acts[asked.act][asked.by]
  const from = performance.now()
  await act()
  return performance.now() - from
}

process.on('message', async (asked: Asked) => {
  try {
    process.send?.({ ok: true, value: await answer(asked) })
  } catch (error) {
    process.send?.({ ok: false, message: error instanceof Error ? error.stack : String(error) })
  }
})
process.send?.('ready')
