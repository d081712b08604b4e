import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { NoticeSeenInput } from '@/lib/schemas/watch'
import { once } from '../client-keys'
import { inTransaction } from '../tx'

/** The reader says that they saw it; when, is the database's to say. Somebody else's notice is not there. */
export async function seeNotice(
  viewer: Viewer,
  input: NoticeSeenInput,
): Promise<{ noticeId: string }> {
  return inTransaction(viewer, 'notice:see', (tx) =>
    once(tx, viewer, { key: input.key, action: 'notice:see', input }, async () => {
      const mine = await tx.notice.count({
        where: { id: input.noticeId, personId: viewer.personId },
      })
      if (mine === 0) throw new AppError('NOT_FOUND')
      await tx.$executeRaw`UPDATE notices SET seen_at = kerf_now() WHERE id = ${input.noticeId}::uuid AND person_id = ${viewer.personId}::uuid AND seen_at IS NULL`
      return { noticeId: input.noticeId }
    }),
  )
}
