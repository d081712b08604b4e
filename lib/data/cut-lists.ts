import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { CutFormInput, RemoveCutInput } from '@/lib/schemas/cut'
import { shapeCode } from '@/lib/schemas/cut-dims'
import type { CutListSettingsInput } from '@/lib/schemas/job'
import { MOST_CUTS } from '@/lib/schemas/sheet-save'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const jsonOf = (value: object) => JSON.parse(JSON.stringify(value)) as object

/** Which list, at a site where the viewer may plan. */
export async function writableList(viewer: Viewer, cutListId: string) {
  const list = await db.cutList.findUnique({
    where: { id: cutListId },
    select: { id: true, siteId: true, jobId: true },
  })
  if (!list) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'job:write', list.siteId)
  return list
}

const described = (input: CutFormInput) => ({
  title: input.title ?? '',
  material: input.material,
  coating: input.coating,
  shape: shapeCode(input.dims),
  dims: jsonOf(input.dims),
  position: input.position,
  count: input.count,
  pieceKg: input.pieceKg,
  note: input.note,
})

async function addCut(
  tx: Tx,
  list: { id: string; siteId: string },
  input: CutFormInput,
): Promise<string> {
  // The list's row is locked, so that two cuts added at once do not take the same place.
  await tx.$queryRaw`SELECT id FROM cut_lists WHERE id = ${list.id}::uuid FOR UPDATE`
  const last = await tx.cut.findFirst({
    where: { cutListId: list.id },
    orderBy: { ordinal: 'desc' },
    select: { ordinal: true },
  })
  const held = await tx.cut.count({ where: { cutListId: list.id } })
  if (held >= MOST_CUTS) throw new AppError('CUT_LIST_FULL', { most: MOST_CUTS })
  const id = uuidv7()
  await tx.cut.create({
    data: {
      id,
      siteId: list.siteId,
      cutListId: list.id,
      ordinal: (last?.ordinal ?? 0) + 1,
      ...described(input),
    },
    select: { id: true },
  })
  return id
}

async function changeCut(
  tx: Tx,
  list: { id: string },
  input: CutFormInput & { cutId: string },
): Promise<string> {
  const cut = await tx.cut.findFirst({
    where: { id: input.cutId, cutListId: list.id },
    select: { doneCount: true },
  })
  if (!cut) throw new AppError('NOT_FOUND')
  if (input.count < cut.doneCount)
    throw new AppError('FEWER_THAN_DONE', { done: cut.doneCount, count: input.count })
  const { count } = await tx.cut.updateMany({
    where: { id: input.cutId, cutListId: list.id, version: input.version ?? -1 },
    data: { ...described(input), version: { increment: 1 } },
  })
  if (count === 0) throw new AppError('CONFLICT')
  return input.cutId
}

/** Adds a cut, or changes one: what is cut already stays counted. */
export async function saveCut(
  viewer: Viewer,
  input: CutFormInput,
): Promise<{ id: string; jobId: string }> {
  const list = await writableList(viewer, input.cutListId)
  const { cutId } = input
  return inTransaction(viewer, cutId ? 'cut:edit' : 'cut:add', (tx) =>
    once(tx, viewer, { key: input.key, action: 'cut:save', input }, async () => {
      const id = cutId
        ? await changeCut(tx, list, { ...input, cutId })
        : await addCut(tx, list, input)
      return { id, jobId: list.jobId }
    }),
  )
}

/** Takes a cut off the list while nothing of it is cut. */
export async function removeCut(viewer: Viewer, input: RemoveCutInput): Promise<{ jobId: string }> {
  const cut = await db.cut.findUnique({
    where: { id: input.cutId },
    select: { cutListId: true, siteId: true },
  })
  const list = cut ? await writableList(viewer, cut.cutListId) : null
  return inTransaction(viewer, 'cut:remove', (tx) =>
    once(tx, viewer, { key: input.key, action: 'cut:remove', input }, async () => {
      if (!list) throw new AppError('NOT_FOUND')
      const now = await tx.cut.findUnique({
        where: { id: input.cutId },
        select: { doneCount: true },
      })
      if (now && now.doneCount > 0) throw new AppError('CUT_BEGUN', { done: now.doneCount })
      const { count } = await tx.cut.deleteMany({
        where: { id: input.cutId, version: input.version, doneCount: 0 },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { jobId: list.jobId }
    }),
  )
}

/** Fuel and process hold for the whole list. */
export async function updateCutList(
  viewer: Viewer,
  input: CutListSettingsInput,
): Promise<{ jobId: string }> {
  const list = await writableList(viewer, input.cutListId)
  return inTransaction(viewer, 'cut-list:edit', (tx) =>
    once(tx, viewer, { key: input.key, action: 'cut-list:edit', input }, async () => {
      const { count } = await tx.cutList.updateMany({
        where: { id: list.id, version: input.version },
        data: {
          fuel: input.fuel,
          process: input.process,
          settings: jsonOf(input.settings),
          version: { increment: 1 },
        },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { jobId: list.jobId }
    }),
  )
}
