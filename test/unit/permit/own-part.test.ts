import { describe, expect, test } from 'vitest'
import { ownParts } from '@/lib/permit/own-part'
import type { PermitFacts, PersonFact } from '@/lib/permit/types'
import { at, BEA, clearedPermit, OWEN, openPermit, RAY, watchedPermit } from './build'

const parts = (facts: PermitFacts, who: PersonFact, isPai = who === RAY) =>
  ownParts({ facts, personId: who.id, isPai, isBriefed: true })
const signed = (...acts: ('agree' | 'acknowledge')[]) =>
  clearedPermit({
    signatures: acts.map((act) => ({
      act,
      personId: act === 'agree' ? OWEN.id : BEA.id,
      signedAt: at(-4),
    })),
  })

describe('a cleared permit', () => {
  // NFPA 51B as the standards imply it: the operator agrees, the watch acknowledges, the PAI signs last.
  test('is the operator’s first, then the watch’s, then the PAI’s', () => {
    expect([OWEN, BEA, RAY].map((who) => parts(signed(), who))).toEqual([['agree'], [], []])
    expect([OWEN, BEA, RAY].map((who) => parts(signed('agree'), who))).toEqual([
      [],
      ['acknowledge'],
      [],
    ])
    expect([OWEN, BEA, RAY].map((who) => parts(signed('agree', 'acknowledge'), who))).toEqual([
      [],
      [],
      ['issue'],
    ])
  })

  test('is never issued by who cuts, PAI or not', () => {
    expect(parts(signed('agree', 'acknowledge'), OWEN, true)).toEqual([])
  })
})

test('a held permit waits for the PAI, an open one for nobody', () => {
  expect(parts(openPermit(), RAY)).toEqual([])
  expect(parts(openPermit({ state: 'held', heldAt: at(5) }), RAY)).toEqual(['resume'])
  expect(parts(openPermit({ state: 'held', heldAt: at(5) }), BEA)).toEqual([])
})

test('at the end who stood watch signs first, and the PAI closes', () => {
  const looked = { finalLookAt: at(125) }
  const before = watchedPermit(120, looked)
  expect([BEA, RAY].map((who) => parts({ ...before, signatures: [] }, who))).toEqual([
    ['final_watch'],
    [],
  ])
  const after = watchedPermit(120, {
    ...looked,
    signatures: [{ act: 'final_watch', personId: BEA.id, signedAt: at(126) }],
  })
  expect([BEA, RAY].map((who) => parts(after, who))).toEqual([[], ['final_pai']])
})

test('whoever was not briefed signs on while it lives', () => {
  const brief = (facts: PermitFacts) =>
    ownParts({ facts, personId: 'visitor', isPai: false, isBriefed: false })
  expect(brief(openPermit())).toEqual(['brief'])
  expect(brief(openPermit({ state: 'closed' }))).toEqual([])
})
