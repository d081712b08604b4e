import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { type TipStanding, tipStanding } from '@/lib/permit/gear-checks'
import type { TipCheckInput } from '@/lib/schemas/outfit'
import { db } from '../client'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'

export type TipRow = Readonly<{
  id: string
  name: string
  shopTip: string | null
  orificeM: number | null
  /** Last measured; null where nobody did. */
  measuredM: number | null
  /** Hours that its outfit cut since it went on, and since somebody last looked at it. */
  hoursOn: number
  hoursSinceLook: number
  lastFinding: string | null
  lastAt: Date | null
  standing: TipStanding
}>

type Row = Omit<TipRow, 'standing'>

/** The tips of an outfit and how long it has cut with each on it. A log says the outfit, not the tip: hours are the outfit's. */
export async function getTipWear(viewer: Viewer, outfitId: string): Promise<TipRow[]> {
  const outfit = await db.outfit.findUnique({ where: { id: outfitId }, select: { siteId: true } })
  if (!outfit) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:read', outfit.siteId)
  const rows = await db.$queryRaw<Row[]>`
    WITH logged AS (
      SELECT l.to_at, extract(epoch FROM l.to_at - l.from_at) / 3600 AS hours FROM hot_work_logs l
      WHERE l.outfit_id = ${outfitId}::uuid AND NOT EXISTS (SELECT 1 FROM hot_work_logs c WHERE c.corrects_id = l.id))
    SELECT p.id, p.name, p.shop_tip AS "shopTip", p.orifice_m AS "orificeM", last.finding AS "lastFinding", last.at AS "lastAt",
           (SELECT c.orifice_m FROM tip_checks c WHERE c.part_id = p.id AND c.orifice_m IS NOT NULL ORDER BY c.at DESC LIMIT 1) AS "measuredM",
           coalesce((SELECT sum(hours) FROM logged WHERE to_at >= p.added_at), 0)::float8 AS "hoursOn",
           coalesce((SELECT sum(hours) FROM logged WHERE to_at >= coalesce(last.at, p.added_at)), 0)::float8 AS "hoursSinceLook"
    FROM outfit_parts p
    LEFT JOIN LATERAL (SELECT c.finding, c.at FROM tip_checks c WHERE c.part_id = p.id ORDER BY c.at DESC, c.id DESC LIMIT 1) last ON true
    WHERE p.outfit_id = ${outfitId}::uuid AND p.kind = 'tip' AND p.removed_at IS NULL ORDER BY p.orifice_m NULLS LAST, p.id`
  return rows.map((row) => ({ ...row, standing: tipStanding(row) }))
}

/** What was found; worn, damaged or opened too far, the tip comes off with the same entry. */
export async function recordTipCheck(
  viewer: Viewer,
  input: TipCheckInput,
): Promise<{ id: string; isOff: boolean }> {
  const part = await db.outfitPart.findUnique({
    where: { id: input.partId },
    select: { outfit: { select: { siteId: true } } },
  })
  if (!part) throw new AppError('NOT_FOUND')
  const { siteId } = part.outfit
  const role = roleThen(viewer, 'outfit:inspect', siteId)
  return inTransaction(viewer, 'outfit:tip-check', (tx) =>
    once(tx, viewer, { key: input.key, action: 'outfit:tip-check', input }, async () => {
      const id = uuidv7()
      const { partId, finding, orificeM, note } = input
      await tx.tipCheck.create({
        data: {
          ...{ id, siteId, partId, finding, orificeM, note },
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      const after = await tx.outfitPart.findUniqueOrThrow({
        where: { id: partId },
        select: { removedAt: true },
      })
      return { id, isOff: after.removedAt !== null }
    }),
  )
}
