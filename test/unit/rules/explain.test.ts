import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Conditions } from '@/lib/rules/conditions'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { CURES } from '@/lib/rules/cures'
import { evaluate } from '@/lib/rules/evaluate'
import {
  afterCures,
  explainPrecautions,
  explainRefusals,
  leadProtection,
} from '@/lib/rules/explain'
import { COMPANY_LAYER, RULESETS } from '@/lib/rules/layers'
import { conditions, layers } from './arbitrary'

const GENERAL = [RULESETS['us-osha-1910'], RULESETS['us-ifc-2018'], RULESETS['us-nfpa51b-2019']]
const explain = (over: Partial<Conditions>, of = GENERAL) => {
  const all = explainPrecautions(of, { ...DEFAULT_CONDITIONS, ...over })
  return (id: string) => all.find((one) => one.id === id)
}

describe('a precaution', () => {
  const doorway = {
    kind: 'wall',
    distanceFt: 30,
    exposesCombustible: true,
    canClose: false,
  } as const

  test('names each layer’s rules and the conditions that brought it', () => {
    const why = explain({ openings: [doorway] })('close-or-guard-openings')
    expect(why?.askedBy).toEqual([
      { layerId: 'us-osha-1910', rules: ['osha1910-openings'], fields: ['openings'] },
      { layerId: 'us-ifc-2018', rules: ['ifc-openings'], fields: ['openings'] },
    ])
    expect(why?.conditions).toEqual([{ field: 'openings', value: null }])
  })

  test('says what each layer’s watch would end for: one thing where one serves', () => {
    const why = explain({ openings: [doorway] })('fire-watch')
    expect(why?.goesAwayBy).toEqual([
      ['openings_closed'],
      ['nothing_beyond_openings'],
      ['designated_area'],
    ])
  })

  test('names two things together where neither alone serves', () => {
    const stock = { nearestCombustibleFt: 10, combustibleState: 'in_place' } as const
    const why = explain({ openings: [doorway], ...stock })('fire-watch')
    expect(why?.goesAwayBy).toContainEqual(['combustibles_away', 'openings_closed'])
    expect(why?.goesAwayBy).not.toContainEqual(['openings_closed'])
  })

  test('names all that is needed, and no more, where even two do not serve', () => {
    const why = explain({
      openings: [doorway],
      nearestCombustibleFt: 10,
      combustibleState: 'in_place',
      farSideCombustibles: 'in_place',
    })('fire-watch')
    expect(why?.goesAwayBy[0]?.toSorted()).toEqual(
      ['combustibles_away', 'far_side_cleared', 'nothing_beyond_openings'].toSorted(),
    )
  })

  test('stays wherever the work is when nothing helps: an extinguisher', () => {
    expect(explain({})('extinguisher-ready')?.goesAwayBy).toEqual([])
  })

  test('the company’s watch after a torch goes away in the designated area alone', () => {
    const why = explain({}, [...GENERAL, COMPANY_LAYER])('fire-watch')
    expect(why?.askedBy).toEqual([{ layerId: 'company', rules: [], fields: ['process'] }])
    expect(
      explain({ process: 'arc_welding' }, [...GENERAL, COMPANY_LAYER])('fire-watch'),
    ).toBeUndefined()
  })

  test('of a confined space that holds everywhere names the layer of everywhere', () => {
    const why = explain({ confinedSpace: true, enclosed: true })('entry-permit')
    expect(why?.askedBy.map((one) => one.layerId)).toEqual(['always'])
    expect(why?.goesAwayBy).toEqual([['out_of_the_space'], ['designated_area']])
  })

  test('for lead asks for a protection factor above 50 until it is measured', () => {
    const site = [RULESETS['us-osha-1926']]
    const why = explain({ coating: 'lead_paint', indoors: false }, site)
    expect(why('filter-respirator')?.protectionFactorAbove).toBe(50)
    expect(why('filter-respirator')?.goesAwayBy).toEqual([['coating_stripped']])
    expect(
      explain({ coating: 'cadmium' }, site)('filter-respirator')?.protectionFactorAbove,
    ).toBeNull()
  })
})

test.each([
  [null, { above: 50, atLeast: null }],
  [Number.NaN, { above: 50, atLeast: null }],
  [50, { above: null, atLeast: null }],
  [51, { above: null, atLeast: 1.02 }],
  [2500, { above: null, atLeast: 50 }],
])('lead measured as %s micrograms a cubic metre asks for %o', (measured, factors) => {
  expect(leadProtection(measured)).toMatchObject(factors)
})

describe('a refusal', () => {
  test('gathers every rule behind it and says what lifts it', () => {
    const why = explainRefusals(GENERAL, { ...DEFAULT_CONDITIONS, sprinklerSystem: 'impaired' })
    expect(why).toMatchObject([
      { code: 'sprinklers_impaired', goesAwayBy: [['sprinklers_restored'], ['designated_area']] },
    ])
    expect(why[0]?.reasons.map((one) => one.layerId)).toEqual(GENERAL.map((one) => one.id))
  })

  test('in a shipyard tank is lifted by a marine chemist, not by a competent person', () => {
    const tank = { ...DEFAULT_CONDITIONS, shipyardSpace: 'tank_or_adjacent' } as const
    const [why] = explainRefusals([RULESETS['us-osha-1915']], tank)
    expect(why?.goesAwayBy[0]).toEqual(['marine_chemist'])
    expect(why?.goesAwayBy).not.toContainEqual(['competent_person'])
    const engineRoom = { ...tank, shipyardSpace: 'other_space' } as const
    expect(explainRefusals([RULESETS['us-osha-1915']], engineRoom)[0]?.goesAwayBy).toContainEqual([
      'competent_person',
    ])
  })

  test('for who acts twice names another person', () => {
    const same = { operator: 'p1', authoriser: 'p1', fireWatch: 'p3' }
    const [why] = explainRefusals(GENERAL, { ...DEFAULT_CONDITIONS, roles: same })
    expect(why).toMatchObject({ code: 'self_issued', goesAwayBy: [['other_authoriser']] })
  })
})

test('whatever is said to make a precaution go away does', () => {
  fc.assert(
    fc.property(layers, conditions, (some, c) => {
      for (const { id, goesAwayBy } of explainPrecautions(some, c)) {
        for (const codes of goesAwayBy) {
          const cures = CURES.filter((cure) => codes.includes(cure.code))
          const after = afterCures(cures, c)
          expect(evaluate(some, after).precautions.map((one) => one.id)).not.toContain(id)
        }
      }
    }),
    { numRuns: 60 },
  )
})
