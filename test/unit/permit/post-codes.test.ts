import fc from 'fast-check'
import { expect, test } from 'vitest'
import { leftToScan, postCodeMark, postOfCode, scanReasons } from '@/lib/permit/post-codes'

const PERMIT = '0198a000-0000-7000-8000-000000000001'
const CODED = [
  { post: 'At the work', code: 'PK7W-2M4Q-HX3R' },
  { post: 'Below', code: 'PX3H-9T8B-WW2D' },
]
const MARKS = Object.fromEntries(
  CODED.map(({ post, code }) => [post, postCodeMark(PERMIT, code)] as const),
)

// FNV-1a, 32 bit: hashes of one and six letters from the reference vectors of its authors (from memory);
// "0:" alone stands before what is hashed here, so the mark is compared with a count done another way.
test('is FNV-1a of the permit and the plain code', () => {
  const byBigInt = [...`${PERMIT}:PK7W2M4QHX3R`].reduce(
    (hash, char) => ((hash ^ BigInt(char.charCodeAt(0))) * 16_777_619n) % 2n ** 32n,
    2_166_136_261n,
  )
  expect(postCodeMark(PERMIT, 'pk7w 2m4q-hx3r')).toBe(Number(byBigInt))
})

test('knows the post that a code hangs at, however it is typed, under this permit alone', () => {
  expect(postOfCode(PERMIT, MARKS, 'px3h9t8bww2d')).toBe('Below')
  expect(postOfCode(PERMIT, MARKS, '')).toBeNull()
  expect(postOfCode(`${PERMIT}2`, MARKS, 'PX3H-9T8B-WW2D')).toBeNull()
})

const visit = fc.record({
  post: fc.constantFrom('At the work', 'Below', 'Far side'),
  answer: fc.constantFrom('clear', 'clear', 'clear', 'warm', 'smoke'),
  code: fc.constantFrom(undefined, '', 'pk7w-2m4q-hx3r', 'PX3H9T8BWW2D', 'ZZZZ'),
  unscanned: fc.constantFrom(undefined, ' ', 'The label is gone'),
})

test('a phone asks for the codes that the permit would refuse a round without', () => {
  fc.assert(
    fc.property(fc.uniqueArray(visit, { selector: ({ post }) => post }), (visits) => {
      const there = new Set<string>(visits.map(({ post }) => post))
      const left = leftToScan(PERMIT, MARKS, visits).filter((post) => there.has(post))
      const refused = scanReasons(CODED, visits).map(({ params }) => params?.post)
      expect(left).toEqual(refused)
    }),
    { numRuns: 500 },
  )
})
