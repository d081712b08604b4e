import { reason } from './reasons'
import type { CodedPost, PostVisit, Reason, RoundFact } from './types'

/** A code as it is compared: capitals and digits, whatever was typed between them. */
export function plainPostCode(code: string): string {
  return code.replaceAll(/[^0-9a-z]/gi, '').toUpperCase()
}

/**
 * Whether a round proves that somebody stood at every post. One that left a code unscanned is kept
 * and its answers count, but it is no presence: the round stays owed, and the minutes with it.
 */
export function isPresenceProven(round: Pick<RoundFact, 'posts'>): boolean {
  return !round.posts.some((visit) => visit.scanned === false)
}

function reasonOf(
  { post, code }: CodedPost,
  visits: readonly PostVisit[],
  all: readonly CodedPost[],
) {
  const given = visits.map((visit) => plainPostCode(visit.code ?? '')).filter((one) => one !== '')
  if (given.includes(plainPostCode(code))) return null
  const [wrong] = given
  if (wrong !== undefined) {
    const of = all.find((one) => plainPostCode(one.code) === wrong)?.post ?? ''
    return reason('post_code_wrong', { post, of, isKnown: of === '' ? 'no' : 'yes' })
  }
  const isSaidWhy = visits.some((visit) => (visit.unscanned ?? '').trim() !== '')
  return isSaidWhy ? null : reason('post_not_scanned', { post })
}

/**
 * Each post that carries a code is scanned, or it is said why it could not be. Warm and smoke are
 * never refused for a code: that the round proves no presence is enough.
 */
export function scanReasons(
  codedPosts: readonly CodedPost[],
  posts: readonly PostVisit[],
): Reason[] {
  if (posts.some((visit) => visit.answer !== 'clear')) return []
  return codedPosts.flatMap((coded) => {
    const visits = posts.filter((visit) => visit.post === coded.post)
    const found = visits.length === 0 ? null : reasonOf(coded, visits, codedPosts)
    return found === null ? [] : [found]
  })
}
