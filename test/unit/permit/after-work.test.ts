import { describe, expect, test } from 'vitest'
import {
  dutiesOwed,
  mayClose,
  mayFinalLook,
  mayRecordRound,
  mayStatement,
  permitWatch,
} from '@/lib/permit/after-work'
import type { PermitFacts } from '@/lib/permit/types'
import {
  at,
  BEA,
  codes,
  DUTIES,
  dutiesUnder,
  OWEN,
  RAY,
  reasonsOf,
  roundAt,
  watchedPermit,
} from './build'

const posts = roundAt(0).posts
const sign = (act: 'final_watch' | 'final_pai', minute: number) => ({
  act,
  personId: act === 'final_pai' ? RAY.id : BEA.id,
  signedAt: at(minute),
})
/** Watched from 60 to 120, looked over at 121 and signed. */
const finished = (over: Partial<PermitFacts> = {}) =>
  watchedPermit(115, {
    finalLookAt: at(121),
    signatures: [sign('final_watch', 122), sign('final_pai', 123)],
    ...over,
  })

describe('a round that left a code unscanned', () => {
  const unproven = (minute: number) => {
    const [first, ...rest] = roundAt(minute).posts
    if (!first) throw new Error('a post')
    return { ...roundAt(minute), posts: [{ ...first, scanned: false }, ...rest] }
  }

  test('is no presence: its minutes do not count and the round stays owed', () => {
    const facts = watchedPermit(60, { rounds: [unproven(70)] })
    const bare = watchedPermit(60)
    expect(permitWatch(facts, at(75))).toEqual(permitWatch(bare, at(75)))
    expect(permitWatch(facts, at(75))?.creditMs).toBe(10 * 60_000)
    expect(permitWatch(watchedPermit(75), at(75))?.creditMs).toBe(15 * 60_000)
  })

  test('never ends a watch, and what it found counts all the same', () => {
    const rounds = [70, 80, 90, 100, 110, 120].map(unproven)
    expect(permitWatch(watchedPermit(60, { rounds }), at(125))?.done).toBe(false)
    const [first, ...rest] = unproven(80).posts
    if (!first) throw new Error('a post')
    const warm = { ...unproven(80), posts: [{ ...first, answer: 'warm' as const }, ...rest] }
    const owed = dutiesOwed(watchedPermit(115, { rounds: [roundAt(70), warm] }), at(82))
    expect(owed.map((one) => one.code)).toContain('post_not_clear')
  })
})

describe('mayClose', () => {
  test('closes once watch, look and both signatures are there', () => {
    expect(mayClose(finished(), at(124))).toEqual({ ok: true })
  })

  test('says everything that is owed at once, with minutes and instants', () => {
    const facts = watchedPermit(95, {
      duties: { ...DUTIES, statementRequired: true },
      rounds: [roundAt(70), roundAt(80, 'warm'), roundAt(90)].slice(0, 2),
      impairments: [{ id: 'i', label: 'Detector, deck 2', restoredAt: null }],
      signatures: [],
    })
    const result = mayClose(facts, at(89))
    expect(codes(result)).toEqual([
      'watch_owed',
      'final_look_missing',
      'statement_missing',
      'post_not_clear',
      'impairment_open',
      'signature_missing',
      'signature_missing',
    ])
    expect(reasonsOf(result)[0]).toEqual({
      code: 'watch_owed',
      ruleId: 'nfpa51b-2019-fw-post-60',
      params: { minutes: 31, whenAt: at(120).getTime() },
    })
  })

  test.each<[string, Partial<PermitFacts>, string[]]>([
    ['is still open', { state: 'open' }, ['wrong_state']],
    ['was looked over before the watch was done', { finalLookAt: at(119) }, ['final_look_missing']],
    [
      'was signed before the look',
      { signatures: [sign('final_watch', 120), sign('final_pai', 123)] },
      ['signature_missing'],
    ],
    [
      'has a warm post',
      { rounds: [...finished().rounds.slice(0, -1), roundAt(110, 'warm')] },
      ['post_not_clear'],
    ],
    [
      'has nobody who watched from 100 on',
      { watchStints: [{ personId: BEA.id, onAt: at(0), offAt: at(100) }] },
      ['watch_owed', 'final_look_missing'],
    ],
    ['was never out', { torchOutAt: null }, ['torch_out_unknown']],
  ])('refuses one that %s', (_, over, expected) => {
    expect(codes(mayClose(finished(over), at(124)))).toEqual(expected)
  })

  test('a post that was warm and is clear again stands in nobody’s way', () => {
    const rounds = [roundAt(70), roundAt(80, 'warm'), roundAt(90), roundAt(100), roundAt(110)]
    expect(mayClose(finished({ rounds }), at(124))).toEqual({ ok: true })
  })

  test('fifty tries in the last minute all fail, and the first at its end succeeds', () => {
    const signedAt = (minute: number) =>
      finished({
        finalLookAt: at(minute),
        signatures: [sign('final_watch', minute), sign('final_pai', minute)],
      })
    const minutes = Array.from({ length: 50 }, (_, second) => 119 + second / 60)
    expect(minutes.filter((minute) => mayClose(signedAt(minute), at(minute)).ok)).toEqual([])
    expect(mayClose(signedAt(120), at(120))).toEqual({ ok: true })
  })

  test('monitoring after the watch is owed until somebody looked at its end', () => {
    const duties = dutiesUnder(['us-nfpa51b-2019'], { monitoringMin: 120 })
    const facts = finished({
      duties,
      finalLookAt: at(241),
      signatures: [sign('final_watch', 242), sign('final_pai', 243)],
    })
    expect(codes(mayClose(facts, at(244)))).toEqual(['monitoring_owed'])
    expect(codes(mayClose({ ...facts, monitoredAt: at(239) }, at(244)))).toEqual([
      'monitoring_owed',
    ])
    expect(mayClose({ ...facts, monitoredAt: at(240) }, at(244))).toEqual({ ok: true })
  })
})

describe('mayFinalLook', () => {
  const noWatch = { ...DUTIES, watchRequired: false, watchMin: 0, finalLookMin: 30 }

  test('comes at its minute even where no watch is needed', () => {
    const facts = watchedPermit(60, { duties: noWatch })
    expect(codes(mayFinalLook(facts, at(89)))).toEqual(['final_look_early'])
    expect(mayFinalLook(facts, at(90))).toEqual({ ok: true })
  })

  test('without a watch the PAI’s signature is enough to close', () => {
    const facts = watchedPermit(60, {
      duties: noWatch,
      finalLookAt: at(90),
      signatures: [sign('final_pai', 91)],
    })
    expect(mayClose(facts, at(92))).toEqual({ ok: true })
  })

  test('is refused while the watch runs, saying how long', () => {
    expect(reasonsOf(mayFinalLook(watchedPermit(95), at(91)))[0]).toMatchObject({
      code: 'watch_owed',
      params: { minutes: 29, whenAt: at(120).getTime() },
    })
  })
})

test('a statement counts only where it is asked for and after the minutes', () => {
  const asked = { ...DUTIES, statementRequired: true }
  expect(codes(mayStatement(finished(), at(124)))).toEqual(['statement_not_asked'])
  expect(codes(mayStatement(watchedPermit(95, { duties: asked }), at(91)))).toEqual(['watch_owed'])
  expect(mayStatement(finished({ duties: asked }), at(124))).toEqual({ ok: true })
  expect(
    dutiesOwed(finished({ duties: asked, statementAt: at(119) }), at(124)).map((one) => one.code),
  ).toEqual(['statement_missing'])
})

describe('mayRecordRound', () => {
  const record = (facts: PermitFacts, minute: number, over: object = {}) =>
    mayRecordRound({ facts, round: { personId: BEA.id, posts, ...over }, now: at(minute) })

  test('opens two minutes before it is due', () => {
    expect(codes(record(watchedPermit(60), 67.9))).toEqual(['round_too_early'])
    expect(record(watchedPermit(60), 68)).toEqual({ ok: true })
  })

  test('smoke is never too early to say', () => {
    expect(record(watchedPermit(60), 62, { posts: roundAt(0, 'smoke').posts })).toEqual({
      ok: true,
    })
  })

  test('visits every post', () => {
    const result = record(watchedPermit(60), 70, { posts: posts.slice(0, 1) })
    expect(reasonsOf(result)).toEqual([{ code: 'post_unanswered', params: { post: 'deck 2' } }])
  })

  test('scans each post that carries a code, or says why not, and names whose code it was', () => {
    const facts = watchedPermit(60, {
      codedPosts: [
        { post: 'deck 3', code: 'PK7W-2M4Q' },
        { post: 'deck 2', code: 'PX3H-9T8B' },
      ],
    })
    const [deck3, deck2] = posts
    if (!deck3 || !deck2) throw new Error('two posts')
    const walk = (third: object, second: object) =>
      reasonsOf(
        record(facts, 70, {
          posts: [
            { ...deck3, ...third },
            { ...deck2, ...second },
          ],
        }),
      )
    const right = { code: 'px3h 9t8b' }
    expect(walk({ code: 'PK7W-2M4Q' }, right)).toEqual([])
    expect(walk({}, right)).toEqual([{ code: 'post_not_scanned', params: { post: 'deck 3' } }])
    expect(walk({ unscanned: 'Label torn off' }, right)).toEqual([])
    expect(walk({ unscanned: ' ' }, right).map((one) => one.code)).toEqual(['post_not_scanned'])
    expect(walk({ code: 'PX3H-9T8B' }, right)).toEqual([
      { code: 'post_code_wrong', params: { post: 'deck 3', of: 'deck 2', isKnown: 'yes' } },
    ])
    // A reason does not excuse a wrong code.
    expect(walk({ code: 'ZZZZ-ZZZZ', unscanned: 'Label torn off' }, right)).toEqual([
      { code: 'post_code_wrong', params: { post: 'deck 3', of: '', isKnown: 'no' } },
    ])
    expect(walk({ answer: 'smoke' }, {})).toEqual([])
  })

  test('is made by somebody who is on watch', () => {
    expect(codes(record(watchedPermit(60), 70, { personId: OWEN.id }))).toEqual(['watch_not_on'])
  })

  test('is not needed once the watch is done, unless a post is not clear', () => {
    expect(codes(record(watchedPermit(115), 125))).toEqual(['round_not_needed'])
    const warm = watchedPermit(115, {
      rounds: [70, 80, 90, 100].map((m) => roundAt(m)).concat(roundAt(110, 'warm')),
    })
    expect(record(warm, 125)).toEqual({ ok: true })
  })
})

test('work outside the permit starts the watch over from its end', () => {
  const facts = watchedPermit(95, { torchOutAt: at(85) })
  expect(permitWatch(facts, at(95))?.creditMs).toBe(10 * 60_000)
})
