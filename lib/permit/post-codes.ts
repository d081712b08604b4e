import { reason } from './reasons'
import type { CodedPost, PostVisit, Reason, RoundFact } from './types'

/** A code as it is compared: capitals and digits, whatever was typed between them. */
export function plainPostCode(code: string): string {
  return code.replaceAll(/[^0-9a-z]/gi, '').toUpperCase()
}

const FNV_OFFSET = 0x811c9dc5
const FNV_PRIME = 0x01000193

/**
 * A code's mark under one permit, by which a phone without signal tells at which post it stands. Far too
 * short to find the code from: the database compares the code itself.
 *
 * @source FNV-1a, 32 bit: RFC 9923 (from memory)
 */
export function postCodeMark(permitId: string, code: string): number {
  let hash = FNV_OFFSET
  for (const char of `${permitId}:${plainPostCode(code)}`)
    hash = Math.imul(hash ^ char.charCodeAt(0), FNV_PRIME)
  return hash >>> 0
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

/**
 * Which posts a round still has to be scanned at, as a phone knows it by their marks; those with a reason
 * why they can't be are not among them. Says the same as `scanReasons`.
 *
 * @param marks `postCodeMark` of each post that carries a code
 */
export function leftToScan(
  permitId: string,
  marks: Readonly<Record<string, number>>,
  posts: readonly (Omit<PostVisit, 'answer'> & Readonly<{ answer: PostVisit['answer'] | null }>)[],
): string[] {
  if (posts.some(({ answer }) => answer !== null && answer !== 'clear')) return []
  const isProven = (post: string) =>
    posts.some((visit) => {
      const code = plainPostCode(visit.code ?? '')
      if (visit.post !== post) return false
      return code === ''
        ? (visit.unscanned ?? '').trim() !== ''
        : postCodeMark(permitId, code) === marks[post]
    })
  return Object.keys(marks).filter((post) => !isProven(post))
}

/** The post that a code hangs at; null when it is of none of this permit. */
export function postOfCode(
  permitId: string,
  marks: Readonly<Record<string, number>>,
  code: string,
): string | null {
  const mark = postCodeMark(permitId, code)
  return Object.entries(marks).find(([, one]) => one === mark)?.[0] ?? null
}
