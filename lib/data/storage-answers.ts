import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { StorageAnswersInput } from '@/lib/schemas/storage'
import { db } from './client'
import { once } from './client-keys'
import type { Prisma } from './generated/client'
import { roleThen } from './role-then'
import { type AnswersAt, areaFactsOf, readAnswers } from './storage-facts'
import { inTransaction } from './tx'

/** What somebody measured and saw: who answered and when stays with it. */
export async function saveStorageAnswers(
  viewer: Viewer,
  input: StorageAnswersInput,
): Promise<{ answersId: string }> {
  const area = await db.area.findUnique({ where: { id: input.areaId }, select: { siteId: true } })
  if (!area) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'cylinder:move', area.siteId)
  return inTransaction(viewer, 'storage:answer', (tx) =>
    once(tx, viewer, { key: input.key, action: 'storage:answer', input }, async () => {
      const answersId = uuidv7()
      await tx.storageAnswer.create({
        data: {
          id: answersId,
          siteId: area.siteId,
          areaId: input.areaId,
          answers: { ...input.answers } as Prisma.InputJsonObject,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      return { answersId }
    }),
  )
}

export type StoreQuestions = Readonly<{
  areaId: string
  siteId: string
  name: string
  isIndoors: boolean
  last: AnswersAt | null
}>

/** What is asked of an area, with the last answers beside it. */
export async function getStoreQuestions(viewer: Viewer, areaId: string): Promise<StoreQuestions> {
  const area = await db.area.findUnique({
    where: { id: areaId },
    select: { id: true, siteId: true, name: true, facts: true },
  })
  if (!area) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:move', area.siteId)
  const answers = await readAnswers(db, area.siteId)
  return {
    areaId,
    siteId: area.siteId,
    name: area.name,
    isIndoors: areaFactsOf(area.facts).isIndoors,
    last: answers.find((one) => one.areaId === areaId) ?? null,
  }
}
