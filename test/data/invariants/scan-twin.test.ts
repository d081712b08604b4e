import fc from 'fast-check'
import { expect, test } from 'vitest'
import { isPresenceProven, scanReasons } from '@/lib/permit/post-codes'
import type { CodedPost, PostVisit } from '@/lib/permit/types'
import { testDatabase } from '../../setup/database'

const { runtime } = testDatabase()

/** What the database says of a round under a permit that froze these posts. */
async function inSql(coded: readonly CodedPost[], visits: readonly PostVisit[]) {
  const frozen = { posts: coded.map(({ post, code }) => ({ id: post, name: post, code })) }
  const posts = visits.map(({ post, ...visit }) => ({ postId: post, name: post, ...visit }))
  const { rows } = await runtime.query<{
    reasons: { code: string; params: { post: string } }[]
    kept: (PostVisit & { name: string })[]
  }>(
    `SELECT kerf_scan_reasons(p, $2) AS reasons, kerf_scanned_posts(p, $2) AS kept
     FROM jsonb_populate_record(NULL::permits, jsonb_build_object('frozen', $1::jsonb)) AS p`,
    [JSON.stringify(frozen), JSON.stringify(posts)],
  )
  const [row] = rows
  if (!row) throw new Error('no answer')
  return row
}

const POSTS = ['Near', 'Far', 'Below']
const CODES = ['PK7W-2M4Q', 'pk7w 2m4q', 'PX3H9T8B', 'PZ5D-6R2N', '', '- -']
const code = fc.constantFrom(...CODES)
const coded = fc.uniqueArray(
  fc.record({
    post: fc.constantFrom(...POSTS),
    code: fc.constantFrom('PK7W-2M4Q', 'px3h-9t8b', 'PZ5D6R2N'),
  }),
  { selector: (one) => one.post, maxLength: 3 },
)
const visit = fc.record(
  {
    post: fc.constantFrom(...POSTS),
    answer: fc.constantFrom('clear' as const, 'clear', 'clear', 'clear', 'warm', 'smoke'),
    code,
    unscanned: fc.constantFrom('Label torn off', '', ' '),
    // What a caller might claim of itself.
    scanned: fc.boolean(),
  },
  { requiredKeys: ['post', 'answer'] },
)

test('the database refuses a round for its codes, and proves presence by them, as lib/permit does', async () => {
  const said = new Map<string, number>()
  await fc.assert(
    fc.asyncProperty(
      coded,
      fc.array(visit, { minLength: 1, maxLength: 4 }),
      async (posts, visits) => {
        const { reasons, kept } = await inSql(posts, visits)
        const mine = scanReasons(posts, visits)
        const flat = (all: readonly { code: string; params?: unknown }[]) =>
          all
            .map((one) => `${one.code.toLowerCase()} ${(one.params as { post: string }).post}`)
            .toSorted()
        expect(flat(reasons)).toEqual(flat(mine))
        for (const one of mine) said.set(one.code, (said.get(one.code) ?? 0) + 1)

        const plain = (text = '') => text.replaceAll(/[^0-9a-z]/gi, '').toLowerCase()
        const isEveryOneRight = posts.every(({ post, code: right }) => {
          const there = visits.filter((one) => one.post === post)
          return there.length === 0 || there.some((one) => plain(one.code) === plain(right))
        })
        expect(isPresenceProven({ posts: kept })).toBe(isEveryOneRight)
        said.set(`proven ${isEveryOneRight}`, (said.get(`proven ${isEveryOneRight}`) ?? 0) + 1)
        expect(kept.some((one) => 'code' in one)).toBe(false)
        expect(kept.map(({ name, answer }) => [name, answer])).toEqual(
          visits.map(({ post, answer }) => [post, answer]),
        )
      },
    ),
    { numRuns: 400 },
  )
  // Each way that it can end was met.
  expect([...said.keys()].toSorted()).toEqual([
    'post_code_wrong',
    'post_not_scanned',
    'proven false',
    'proven true',
  ])
})
