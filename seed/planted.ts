import { planDemo } from './demo/plan'
import { HISTORY_DAYS, type Planted } from './demo/world'
import type { Db } from './play'

const DAY_MS = 86_400_000
const NO_SECRETS = { passwordHash: '', pinHashes: new Map<string, string>() }

/**
 * What was planted in a demo company, for whoever builds the finding of it. The plan follows from the
 * seed and from the moment of seeding, and that moment from when the company was written.
 */
export async function plantedIn(db: Db): Promise<readonly Planted[]> {
  const { rows } = await db.query<{ ms: string }>(
    'SELECT kerf_ms(created_at) AS ms FROM company WHERE is_demo',
  )
  const createdMs = rows[0]?.ms
  if (createdMs === undefined) throw new Error('no demo company here')
  return planDemo(Number(createdMs) + (HISTORY_DAYS + 2) * DAY_MS, NO_SECRETS).planted
}
