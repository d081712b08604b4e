import 'server-only'
import type { GasCorrection } from '@/lib/calc/gas-corrections'
import { correctionSchema } from '@/lib/schemas/finding'
import { db } from '../client'

/** Corrections that stand at these sites, in the order they were accepted. */
export async function readCorrections(siteIds: readonly string[]): Promise<GasCorrection[]> {
  if (siteIds.length === 0) return []
  const rows = await db.$queryRaw<{ correction: unknown }[]>`
    SELECT correction FROM finding_standings
    WHERE decision = 'accepted' AND site_id = ANY(${siteIds}::uuid[]) ORDER BY at, id`
  return rows.map((row) => correctionSchema.parse(row.correction))
}
