import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { db } from './client'

export interface CompanyFrame {
  readonly name: string
  readonly timeZone: string
  /** The database's clock while this was read. */
  readonly nowMs: number
}

/** What stands around every screen: the company's name and zone, and the one clock. Every signed-in person may read it. */
export async function getCompany(_viewer: Viewer): Promise<CompanyFrame> {
  const [row] = await db.$queryRaw<{ name: string; zone: string; now: Date }[]>`
    SELECT name, zone, kerf_now() AS now FROM company LIMIT 1`
  if (!row) throw new Error('the company row is missing: the database has not been seeded')
  return { name: row.name, timeZone: row.zone, nowMs: row.now.getTime() }
}
