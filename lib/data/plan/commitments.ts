import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { z } from 'zod'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { convert } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import type { CommitInput, EndCommitmentInput } from '@/lib/schemas/commitment'
import { db } from '../client'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'

/** Of a cylinder whose size nobody weighed, as the plan counts too. House figure, no source. */
export const USUAL_GROSS_KG = 85
const NEAR = 1e-9

const linesSchema = z.array(z.object({ sizeId: z.string(), quantity: z.number().int().positive() }))

export type Commitment = Readonly<{
  id: string
  kind: 'move' | 'return'
  siteId: string
  siteName: string
  toSiteId: string | null
  toSiteName: string | null
  /** Day of the site, and how many days from its today. */
  dueOn: string
  inDays: number
  withPapers: boolean
  lines: readonly Readonly<{ sizeId: string; sizeName: string; gasId: string; quantity: number }>[]
}>

type CommitmentRow = Omit<Commitment, 'lines'> & { lines: unknown }

/** What is confirmed at these sites and neither done nor past; the caller has settled that the viewer may see them. */
export async function readCommitments(siteIds: readonly string[]): Promise<Commitment[]> {
  const rows = await db.$queryRaw<CommitmentRow[]>`
    SELECT c.id, c.kind, c.site_id AS "siteId", s.short_name AS "siteName", c.to_site_id AS "toSiteId", t.short_name AS "toSiteName",
           to_char(c.due_on, 'YYYY-MM-DD') AS "dueOn", (c.due_on - (kerf_now() AT TIME ZONE s.zone)::date)::int AS "inDays",
           c.with_papers AS "withPapers",
           (SELECT coalesce(jsonb_agg(jsonb_build_object('sizeId', z.id, 'sizeName', z.name, 'gasId', z.gas_id, 'quantity', (l ->> 'quantity')::int) ORDER BY z.id), '[]')
            FROM jsonb_array_elements(c.lines) l JOIN cylinder_sizes z ON z.id = l ->> 'sizeId') AS lines
    FROM supply_commitments c JOIN sites s ON s.id = c.site_id LEFT JOIN sites t ON t.id = c.to_site_id
    WHERE c.state = 'planned' AND (c.site_id = ANY(${siteIds}::uuid[]) OR c.to_site_id = ANY(${siteIds}::uuid[]))
      AND c.due_on >= (kerf_now() AT TIME ZONE s.zone)::date
    ORDER BY c.due_on, c.id LIMIT 200`
  return rows.map((row) => ({ ...row, lines: row.lines as Commitment['lines'] }))
}

export const mayEnd = (viewer: Viewer, { siteId, toSiteId }: Commitment): boolean =>
  can(viewer, 'order:confirm', siteId) &&
  (toSiteId === null || can(viewer, 'order:confirm', toSiteId))

/** Past materials of trade nothing is confirmed without papers. */
async function assertMayRide(input: CommitInput): Promise<void> {
  if (input.kind !== 'move' || input.withPapers) return
  const sizes = await db.cylinderSize.findMany({
    where: { id: { in: input.sizeId } },
    select: { id: true, grossKg: true, tareKg: true, nominalKg: true },
  })
  const grossOf = (sizeId: string) => {
    const size = sizes.find((one) => one.id === sizeId)
    return size?.grossKg ?? (size?.tareKg ? size.tareKg + size.nominalKg : USUAL_GROSS_KG)
  }
  const loadKg = input.sizeId.reduce(
    (sum, sizeId, at) => sum + grossOf(sizeId) * (input.quantity[at] ?? 0),
    0,
  )
  const { citation, limits } = STORE_RULES['dot-mot-aggregate-440']
  const mostKg = convert({ value: limits.aggregateMaxLb, from: 'lb', to: 'kg' })
  if (loadKg > mostKg * (1 + NEAR))
    throw new AppError('LOAD_NEEDS_PAPERS', {
      aggregateLb: Math.round(convert({ value: loadKg, from: 'kg', to: 'lb' })),
      citation,
    })
}

/** Confirms a move or a return; from then on it is fixed, and the plan is made around it. */
export async function commitSupply(viewer: Viewer, input: CommitInput): Promise<{ id: string }> {
  const role = roleThen(viewer, 'order:confirm', input.siteId)
  if (input.toSiteId) roleThen(viewer, 'order:confirm', input.toSiteId)
  await assertMayRide(input)
  const [site] = await db.$queryRaw<{ today: string }[]>`
    SELECT to_char(kerf_now() AT TIME ZONE zone, 'YYYY-MM-DD') AS today FROM sites WHERE id = ${input.siteId}::uuid`
  if (!site) throw new AppError('NOT_FOUND')
  if (input.dueOn < site.today) throw new AppError('DAY_PAST')
  const lines = linesSchema.parse(
    input.sizeId.map((sizeId, at) => ({ sizeId, quantity: input.quantity[at] })),
  )
  return inTransaction(viewer, 'supply:commit', (tx) =>
    once(tx, viewer, { key: input.key, action: 'supply:commit', input }, async () => {
      const id = uuidv7()
      await tx.supplyCommitment.create({
        data: {
          id,
          kind: input.kind,
          siteId: input.siteId,
          toSiteId: input.toSiteId ?? null,
          dueOn: new Date(`${input.dueOn}T00:00:00Z`),
          withPapers: input.withPapers,
          lines,
          confirmedBy: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      return { id }
    }),
  )
}

/** Says that a confirmed move or return is done, or takes it back. */
export async function endCommitment(
  viewer: Viewer,
  input: EndCommitmentInput,
): Promise<{ id: string }> {
  const known = await db.supplyCommitment.findUnique({
    where: { id: input.commitmentId },
    select: { siteId: true, toSiteId: true },
  })
  if (!known) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'order:confirm', known.siteId)
  if (known.toSiteId) roleThen(viewer, 'order:confirm', known.toSiteId)
  return inTransaction(viewer, 'supply:end', (tx) =>
    once(tx, viewer, { key: input.key, action: 'supply:end', input }, async () => {
      await tx.supplyCommitment.update({
        where: { id: input.commitmentId },
        data: { state: input.as },
        select: { id: true },
      })
      return { id: input.commitmentId }
    }),
  )
}
