import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { NoticeSeenInput } from '@/lib/schemas/watch'
import { once } from '../client-keys'
import { inTransaction } from '../tx'

/**
 * The reader says that they saw it, and so what was told before of the same thing; when, is the
 * database's to say. Somebody else's notice is not there.
 */
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
      await tx.$executeRaw`
        UPDATE notices n SET seen_at = kerf_now() FROM notices this
        WHERE this.id = ${input.noticeId}::uuid AND n.person_id = ${viewer.personId}::uuid AND n.seen_at IS NULL
          AND n.kind = this.kind AND n.subject_id IS NOT DISTINCT FROM this.subject_id AND n.at <= this.at`
      return { noticeId: input.noticeId }
    }),
  )
}
