import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { databaseNow } from '../../seed/play'
import { morningZone } from '../setup/morning-zone'
import type { TestApp } from './app'

const MINUTE_MS = 60_000

/** A site of its own at which it is between seven and eight in the morning: no midnight, no end of shift. */
export async function buildMorning(app: TestApp): Promise<Worksite> {
  const zone = morningZone(await databaseNow(app.owner))
  return buildWorksite(app.owner, await buildSite(app.owner, { zone }))
}

export async function stateOf(app: TestApp, permitId: string): Promise<string | undefined> {
  const { rows } = await app.owner.query<{ state: string }>(
    'SELECT state FROM permits WHERE id = $1',
    [permitId],
  )
  return rows[0]?.state
}

/** So many minutes after the torch went out, however long the steps before it took; never back. */
export async function afterTorchOut(
  app: TestApp,
  permitId: string,
  minutes: number,
): Promise<void> {
  const { rows } = await app.owner.query<{ ms: number }>(
    `SELECT extract(epoch FROM torch_out_at + $1 * interval '1 minute' - clock_timestamp())::float8 * 1000 AS ms
     FROM permits WHERE id = $2`,
    [minutes, permitId],
  )
  const now = await databaseNow(app.owner)
  await app.setClock(Math.max(now - Date.now(), rows[0]?.ms ?? Number.NaN))
}

export const minutesOn = (app: TestApp, minutes: number) => app.setClock(minutes * MINUTE_MS)
