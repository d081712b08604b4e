import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { type AreaDrawing, standingPart } from '@/lib/permit/drawing'
import { drawingReasons } from '@/lib/permit/drawing-findings'
import type { LayerId } from '@/lib/rules/types'
import { areaDrawingSchema, type KeepDrawingInput } from '@/lib/schemas/drawing'
import { db } from '../client'
import { once } from '../client-keys'
import type { Prisma } from '../generated/client'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { assertOnPermit, personName, readPermitContext } from './context'
import { type PermitHead, toHead } from './head'

export type DrawingView = Readonly<{
  head: PermitHead
  /** The last drawing of this permit; null before the first. */
  drawing: AreaDrawing | null
  revision: number
  keptAt: Date | null
  keptBy: string | null
  /** What of the area's last drawing, under an older permit, a new one may begin with. */
  fromBefore: Readonly<{ drawing: AreaDrawing; number: string }> | null
  /** The layers in force, so that each finding is worded as they word it. */
  layers: readonly LayerId[]
  canDraw: boolean
}>

const DRAWABLE = new Set(['preparing', 'held', 'watch'])

async function lastOfArea(areaId: string, permitId: string) {
  const row = await db.areaDrawing.findFirst({
    where: { permit: { areaId }, permitId: { not: permitId } },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    select: {
      drawing: true,
      permit: { select: { number: true, job: { select: { number: true } } } },
    },
  })
  if (!row) return null
  const { job, number } = row.permit
  return {
    drawing: standingPart(areaDrawingSchema.parse(row.drawing)),
    number: `${job.number}-${number}`,
  }
}

/** The permit's drawing, and what it is judged by. */
export async function getDrawing(viewer: Viewer, permitId: string): Promise<DrawingView> {
  const context = await readPermitContext(viewer, permitId)
  const { facts, bundle, drawing } = context
  const kept = bundle.drawing
  return {
    head: toHead(context),
    drawing,
    revision: kept?.revision ?? 0,
    keptAt: kept ? new Date(kept.at) : null,
    keptBy: kept ? personName(context, kept.person_id) : null,
    fromBefore: drawing ? null : await lastOfArea(facts.areaId, permitId),
    layers: context.layers.map((layer) => layer.id),
    canDraw: can(viewer, 'permit:clear', facts.siteId) && DRAWABLE.has(facts.state),
  }
}

/** Keeps a drawing of the area as the permit's latest; what was drawn before stays in the record. */
export async function keepDrawing(
  viewer: Viewer,
  input: KeepDrawingInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:clear', input.permitId)
  const role = roleThen(viewer, 'permit:clear', siteId)
  const { permitId, deviceAt, drawing } = input
  return inTransaction(viewer, 'permit:draw', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:draw', input }, async () => {
      const reasons = drawingReasons(drawing)
      if (reasons.length > 0)
        throw new AppError('DRAWING_UNFINISHED', { count: reasons.length }, reasons)
      // The permit's lock is taken by the insert; the number it gave says whether somebody drew meanwhile.
      const kept = await tx.areaDrawing.create({
        select: { revision: true },
        data: {
          ...{ id: uuidv7(), siteId, permitId, deviceAt },
          drawing: JSON.parse(JSON.stringify(drawing)) as Prisma.InputJsonObject,
          personId: viewer.personId,
          roleThen: role,
        },
      })
      if (kept.revision !== input.revision + 1) throw new AppError('CONFLICT')
      return { permitId }
    }),
  )
}
