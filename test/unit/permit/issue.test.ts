import { describe, expect, test } from 'vitest'
import { mayIssue, mayWithdraw, paiMayWatch } from '@/lib/permit/issue'
import type { Issuing, PermitFacts } from '@/lib/permit/types'
import { PERMIT_STATES } from '@/lib/permit/types'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate } from '@/lib/rules/evaluate'
import { RULESETS } from '@/lib/rules/layers'
import {
  at,
  BEA,
  clearedPermit,
  codes,
  DUTIES,
  issuing,
  OWEN,
  person,
  RAY,
  reasonsOf,
} from './build'

const forbidden = evaluate([RULESETS['us-osha-1910']], {
  ...DEFAULT_CONDITIONS,
  sprinklerSystem: 'impaired',
})
const judged = { ...issuing().evaluation, required: 'judgement' as const }
const signed = (act: 'agree' | 'acknowledge' | 'enter', personId: string, minute: number) => ({
  act,
  personId,
  signedAt: at(minute),
})
const air = (over: object) => [
  { takenAt: at(-5), oxygenPct: 20.9, lelPct: 0, coPpm: null, h2sPpm: null, ...over },
]

const confined = evaluate([RULESETS['us-osha-1926']], {
  ...DEFAULT_CONDITIONS,
  confinedSpace: true,
  enclosed: true,
})
const entry = { number: 'CS-4', until: at(600) }
const ENTRY_TOO = {
  qualifications: [
    ...BEA.qualifications,
    { kind: 'entry_supervisor' as const, validFrom: '2026-01-01', validUntil: null },
  ],
}

describe('where an entry permit is linked its supervisor signs', () => {
  const signatures = clearedPermit().signatures
  const people = [OWEN, RAY, person(BEA.id, BEA.name, ENTRY_TOO)]
  const issue = (minute: number | null, by = BEA.id) => {
    const entered = { act: 'enter' as const, personId: by, signedAt: at(minute ?? 0) }
    const facts = clearedPermit({
      linked: { host: null, entry },
      signatures: minute === null ? signatures : [...signatures, entered],
    })
    return mayIssue(facts, issuing({ people }), at(0))
  }

  test('after the watch and before the PAI, qualified that day', () => {
    expect(issue(-1)).toEqual({ ok: true })
    expect(reasonsOf(issue(null))).toEqual([
      { code: 'signature_missing', params: { act: 'enter' } },
    ])
    expect(codes(issue(-60))).toEqual(['signature_order'])
    expect(codes(issue(-1, RAY.id))).toEqual(['not_qualified'])
  })
})

describe('an operator alone, with the client’s person', () => {
  // NFPA 51B on sole proprietors, from memory; that the same person watches is the site's setting.
  const lone = { client: 'Marlow Mills', isAllowed: true, isBriefed: true }
  const issue = (facts: Partial<PermitFacts>, paiId = BEA.id) =>
    codes(mayIssue(clearedPermit(facts), issuing({ paiId }), at(0)))

  test('the client’s person watches and authorises, which nobody else may do at once', () => {
    expect(issue({ lone })).toEqual([])
    expect(issue({ lone: null })).toEqual(['same_person'])
    expect(issue({ lone }, RAY.id)).toEqual(['lone_other_signer'])
  })

  test.each([
    [{ isAllowed: false }, 'lone_not_allowed'],
    [{ isBriefed: false }, 'lone_not_briefed'],
  ])('%j: %s', (over, expected) => {
    expect(issue({ lone: { ...lone, ...over } })).toEqual([expected])
  })

  test('the operator still authorises nothing', () => {
    expect(issue({ lone }, OWEN.id)).toContain('same_person')
  })

  // 29 CFR 1915.504(c)(1): no other duties of the watch.
  test('a shipyard, whose watch does nothing else, rules it out', () => {
    const c = { ...DEFAULT_CONDITIONS, loneOperator: true }
    expect(evaluate([RULESETS['us-osha-1915']], c).reasons.map((one) => one.code)).toEqual([
      'lone_operator',
    ])
    expect(evaluate([RULESETS['us-nfpa51b-2019']], c).decision).toBe('allowed_with_precautions')
  })
})

describe('the PAI as fire watch', () => {
  // NFPA 51B, from memory, low confidence: not barred, so a site's own word. 29 CFR 1915.504(c)(1) bars other duties.
  test.each([
    [false, ['us-nfpa51b-2019'], false],
    [true, ['us-nfpa51b-2019', 'us-osha-1926'], true],
    [true, ['us-nfpa51b-2019', 'us-osha-1915'], false],
    [true, [], true],
  ])('set %s, going by %j: %s', (isSet, rulesetIds, expected) => {
    expect(paiMayWatch(isSet, rulesetIds)).toBe(expected)
  })

  test('is one person where the site lets them, and the operator is still another', () => {
    const issue = (facts: Partial<PermitFacts>, paiId = BEA.id) =>
      codes(mayIssue(clearedPermit(facts), issuing({ paiId }), at(0)))
    expect(issue({ isPaiWatchAllowed: false })).toEqual(['same_person'])
    expect(issue({ isPaiWatchAllowed: true })).toEqual([])
    expect(issue({ isPaiWatchAllowed: true }, RAY.id)).toEqual([])
    expect(issue({ isPaiWatchAllowed: true }, OWEN.id)).toContain('same_person')
  })
})

test('in a confined space nothing is opened without the entry permit, and with it the same is', () => {
  const entered = { act: 'enter' as const, personId: BEA.id, signedAt: at(-2) }
  const signatures = [...clearedPermit().signatures, entered]
  const people = [OWEN, RAY, person(BEA.id, BEA.name, ENTRY_TOO)]
  const under = (linked: NonNullable<PermitFacts['linked']>) =>
    mayIssue(
      clearedPermit({ linked, signatures }),
      issuing({ evaluation: confined, people }),
      at(0),
    )
  const refused = under({ host: null, entry: null })
  expect(reasonsOf(refused)).toEqual([
    // 29 CFR 1926.1205 and 1206(p): the entry permit, and hot work named on it.
    { code: 'entry_permit_missing', params: {}, ruleId: 'osha-cs-permit-signature' },
  ])
  expect(under({ host: { number: 'H-1', until: at(600) }, entry: null }).ok).toBe(false)
  expect(under({ host: null, entry })).toEqual({ ok: true })
})

test('a cleared permit with everything in order may be issued', () => {
  expect(mayIssue(clearedPermit(), issuing(), at(0))).toEqual({ ok: true })
})

interface Wrong {
  title: string
  facts?: Partial<PermitFacts>
  with?: Partial<Issuing>
  expected: string[]
}
const WRONG: Wrong[] = [
  { title: 'it is not cleared', facts: { state: 'preparing' }, expected: ['wrong_state'] },
  { title: 'a rule forbids it', with: { evaluation: forbidden }, expected: ['rules_refuse'] },
  {
    title: 'nobody answered whether a watch is needed',
    with: { evaluation: judged },
    expected: ['watch_judgement_open'],
  },
  {
    title: 'a watch is needed and none named',
    facts: { fireWatchId: null },
    expected: ['watch_not_named'],
  },
  {
    title: 'the operator has not agreed',
    facts: { signatures: [signed('acknowledge', BEA.id, -3)] },
    expected: ['signature_missing'],
  },
  {
    title: 'somebody else agreed for the operator',
    facts: { signatures: [signed('agree', 'else', -4), signed('acknowledge', BEA.id, -3)] },
    expected: ['signature_by_other'],
  },
  {
    title: 'the watch signed before the operator',
    facts: { signatures: [signed('acknowledge', BEA.id, -5), signed('agree', OWEN.id, -4)] },
    expected: ['signature_order'],
  },
  {
    title: 'the PAI is the operator',
    with: { paiId: OWEN.id },
    expected: ['same_person'],
  },
  {
    title: 'the operator is also the watch',
    facts: {
      fireWatchId: OWEN.id,
      signatures: [signed('agree', OWEN.id, -4), signed('acknowledge', OWEN.id, -3)],
    },
    expected: ['same_person'],
  },
  {
    title: 'the watch qualified until yesterday',
    with: {
      people: [
        OWEN,
        person(BEA.id, BEA.name, {
          qualifications: [
            { kind: 'fire_watch', validFrom: '2025-01-01', validUntil: '2026-03-01' },
          ],
        }),
        RAY,
      ],
    },
    expected: ['not_qualified'],
  },
  {
    title: 'the PAI was disabled',
    with: { people: [OWEN, BEA, person(RAY.id, RAY.name, { isActive: false })] },
    expected: ['person_inactive'],
  },
  {
    title: 'the operator cuts elsewhere at this moment',
    with: { busy: [{ personId: OWEN.id, role: 'operator', areaLabel: 'Bay 2' }] },
    expected: ['person_busy'],
  },
  { title: 'no outfit is named', with: { outfit: null }, expected: ['outfit_missing'] },
  {
    title: 'the outfit is out of service',
    with: { outfit: { id: 'o7', label: 'Outfit 7', isInService: false } },
    expected: ['outfit_out_of_service'],
  },
  { title: 'the air was not tested', facts: { gasTests: [] }, expected: ['gas_test_missing'] },
  {
    title: 'the gas test is an hour old',
    facts: { gasTests: air({ takenAt: at(-60) }) },
    expected: ['gas_test_expired'],
  },
  {
    title: 'oxygen is low',
    facts: { gasTests: air({ oxygenPct: 19.4 }) },
    expected: ['gas_test_oxygen_low'],
  },
  {
    title: 'the air is enriched',
    facts: { gasTests: air({ oxygenPct: 23.6 }) },
    expected: ['gas_test_oxygen_high'],
  },
  {
    title: 'flammable gas reads 10 %',
    facts: { gasTests: air({ lelPct: 10 }) },
    expected: ['gas_test_lel'],
  },
  {
    title: 'the PAI came 31 min ago',
    with: { paiArrivedAt: at(-31) },
    expected: ['pai_not_on_site'],
  },
  {
    title: 'nobody said when the PAI came',
    with: { paiArrivedAt: null },
    expected: ['pai_arrival_unknown'],
  },
  {
    title: 'stop was pressed before it was issued',
    facts: { stopPressedAt: at(-1) },
    expected: ['stopped_before_issue'],
  },
  { title: 'its end has passed', with: { validUntil: at(0) }, expected: ['valid_until_past'] },
  {
    title: 'its end lies past 24 h',
    with: { validUntil: at(24 * 60 + 1) },
    expected: ['valid_until_over_cap'],
  },
  {
    title: 'the host’s own permit ends before it',
    facts: { linked: { host: { number: 'H-77', until: at(30) }, entry: null } },
    with: { validUntil: at(31) },
    expected: ['valid_until_over_host'],
  },
  {
    title: 'the entry permit ends before it',
    facts: {
      linked: { host: null, entry: { number: 'CS-4', until: at(30) } },
      signatures: [...clearedPermit().signatures, signed('enter', BEA.id, -1)],
    },
    with: { validUntil: at(31), people: [OWEN, RAY, person(BEA.id, BEA.name, ENTRY_TOO)] },
    expected: ['valid_until_over_entry'],
  },
]

test.each(WRONG)('is refused, and only for that, when $title', (wrong) => {
  const result = mayIssue(clearedPermit(wrong.facts), issuing(wrong.with), at(0))
  expect(codes(result)).toEqual(wrong.expected)
})

test('every reason is given at once', () => {
  const result = mayIssue(
    clearedPermit({
      state: 'preparing',
      signatures: [],
      gasTests: [],
      fireWatchId: null,
      operatorId: RAY.id,
    }),
    issuing({ evaluation: forbidden, outfit: null, paiArrivedAt: null, validUntil: at(-1) }),
    at(0),
  )
  expect(codes(result)).toEqual([
    'wrong_state',
    'rules_refuse',
    'watch_not_named',
    'same_person',
    'signature_missing',
    'outfit_missing',
    'gas_test_missing',
    'pai_arrival_unknown',
    'valid_until_past',
  ])
})

test('a refusal by a rule names the rule, what it is about and what cures it', () => {
  expect(reasonsOf(mayIssue(clearedPermit(), issuing({ evaluation: forbidden }), at(0)))).toEqual([
    {
      code: 'rules_refuse',
      ruleId: 'osha1910-ban-sprinkler-impaired',
      params: {
        why: 'sprinklers_impaired',
        decision: 'forbidden',
        layer: 'us-osha-1910',
        cure: 'restore-impairment-first',
      },
    },
  ])
})

describe('where no watch is needed', () => {
  test('the permit may be issued without one', () => {
    const evaluation = evaluate([RULESETS['us-osha-1910']], DEFAULT_CONDITIONS)
    const duties = { ...DUTIES, watchRequired: false, watchMin: 0 }
    const facts = clearedPermit({ fireWatchId: null, signatures: [signed('agree', OWEN.id, -4)] })
    expect(mayIssue(facts, issuing({ evaluation, duties }), at(0))).toEqual({ ok: true })
  })
})

test('only a permit that was never open can be withdrawn', () => {
  const allowed = PERMIT_STATES.filter((state) => mayWithdraw({ state }).ok)
  expect(allowed).toEqual(['preparing', 'cleared'])
})
