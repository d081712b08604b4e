import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from '../client'
import type { Prisma } from '../generated/client'

/** Refusals that say nothing of the permit: a form sent twice, a wrong PIN, a busy database. */
const NOT_OF_THE_PERMIT = new Set([
  'BUSY',
  'CONFLICT',
  'KEY_REUSED',
  'PIN_WRONG',
  'PIN_NOT_SET',
  'TOO_MANY_TRIES',
  'NOT_FOUND',
  'FORBIDDEN',
])

/**
 * Does it, and where it is refused keeps the attempt with every reason, in a transaction of its
 * own: what was refused is part of the record, though nothing came of it.
 */
export async function keepingRefusals<T>(
  {
    viewer,
    action,
    siteId,
    subjectId,
  }: Readonly<{ viewer: Viewer; action: string; siteId: string; subjectId: string }>,
  act: () => Promise<T>,
): Promise<T> {
  try {
    return await act()
  } catch (error) {
    if (!(error instanceof AppError) || NOT_OF_THE_PERMIT.has(error.code)) throw error
    const reasons =
      error.reasons.length > 0 ? error.reasons : [{ code: error.code, params: error.params }]
    await db.refusedAttempt.create({
      select: { id: true },
      data: {
        id: uuidv7(),
        siteId,
        personId: viewer.personId,
        action,
        subjectId,
        reasons: JSON.parse(JSON.stringify(reasons)) as Prisma.InputJsonArray,
      },
    })
    throw error
  }
}
