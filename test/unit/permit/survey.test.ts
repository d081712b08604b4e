import { describe, expect, test } from 'vitest'
import { mayClear } from '@/lib/permit/issue'
import type { AreaFacts, SurveyItemId } from '@/lib/permit/survey'
import {
  choiceOf,
  missingDetails,
  SURVEY_GROUPS,
  SURVEY_ITEMS,
  surveyItems,
} from '@/lib/permit/survey'
import type { SurveyAnswers } from '@/lib/permit/survey-answers'
import {
  answerReasons,
  conditionsFrom,
  impairmentsFrom,
  surveyProgress,
} from '@/lib/permit/survey-answers'
import type { HotWorkProcess } from '@/lib/rules/conditions'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate } from '@/lib/rules/evaluate'
import { COMPANY_LAYER, RULESETS, SILENT } from '@/lib/rules/layers'
import { RULESET_IDS } from '@/lib/rules/types'
import { at, codes, reasonsOf } from './build'

const AREA: AreaFacts = {
  indoors: true,
  enclosed: false,
  confinedSpace: false,
  sprinklers: true,
  detection: true,
  floor: 'noncombustible',
  wall: 'noncombustible',
  levelFt: 0,
}
/** An engine room, say: no tank, and none next to it. */
const SHIP: AreaFacts = { ...AREA, shipyardSpace: 'other_space' }
const CLEAN: SurveyAnswers = {
  since_last: { choice: 'nothing_seen' },
  inside_piece: { choice: 'solid' },
  coating: { choice: 'bare' },
  far_side: { choice: 'nothing_burns' },
  openings: { choice: 'none' },
  floor: { choice: 'does_not_burn' },
  walls: { choice: 'do_not_burn' },
  burnables: { choice: 'none' },
  ducts: { choice: 'none' },
  stores: { choice: 'none' },
  sprinklers: { choice: 'valve_open' },
  detectors: { choice: 'none_near' },
  air: { choice: 'open_air' },
  cylinders: { choice: 'secured_away' },
  extinguisher: { choice: 'ready' },
  bystanders: { choice: 'nobody' },
  view: { choice: 'one_sees_all' },
  ship_space: { choice: 'competent_person', what: 'Engine room, log 12' },
  burn_ban: { choice: 'none_today', what: 'County page' },
  wind: { choice: 'measured', windMph: 6 },
  drop_zone: { choice: 'nobody_below' },
  tap_crew: { choice: 'approved', what: 'Hale, letter of 3 May' },
  tap_plan: { choice: 'written', what: 'Plan T-12' },
  tap_line: { choice: 'as_planned', what: '9.1 mm, 14 bar, 2 m/s' },
}
const OUTDOORS: AreaFacts = { ...AREA, indoors: false }
const LAYERS = [...RULESET_IDS.map((id) => RULESETS[id]), COMPANY_LAYER]

const conditions = (
  answers: SurveyAnswers,
  area = AREA,
  process: HotWorkProcess = 'oxyfuel_cutting',
) =>
  conditionsFrom({
    area,
    areaClass: 'permit',
    answers,
    gasTests: [],
    process,
    roles: { operator: 'p1', authoriser: 'p2', fireWatch: 'p3' },
    isFireWatchTrained: true,
  })
const clear = (answers: SurveyAnswers, area = AREA, process: HotWorkProcess = 'oxyfuel_cutting') =>
  mayClear({
    facts: { state: 'preparing' },
    area: { ...area, process },
    answers,
    evaluation: evaluate(LAYERS, conditions(answers, area, process)),
  })

const itemOf = (id: SurveyItemId) => {
  const item = SURVEY_ITEMS.find((one) => one.id === id)
  if (!item) throw new Error(id)
  return item
}

test('the walk keeps its order and asks each thing once', () => {
  const order = SURVEY_ITEMS.map((item) => SURVEY_GROUPS.indexOf(item.group))
  expect(order).toEqual(order.toSorted((a, b) => a - b))
  expect(new Set(SURVEY_ITEMS.map((item) => item.id)).size).toBe(SURVEY_ITEMS.length)
  expect(surveyItems({ ...AREA, sprinklers: false, detection: false })).toHaveLength(15)
})

test('only floor and walls are standing facts; all that can change is asked anew', () => {
  const standing = SURVEY_ITEMS.filter((item) => item.needsStandingFact !== null)
  expect(standing.map((item) => item.id)).toEqual(['floor', 'walls'])
})

test('every choice sets only conditions that its item speaks of', () => {
  const strays = SURVEY_ITEMS.flatMap((item) =>
    item.choices.flatMap((choice) =>
      Object.keys(
        choice.sets({ choice: choice.id, distanceFt: 20, sparksReachFt: 40, windMph: 5 }),
      ).filter((field) => !(item.fields as readonly string[]).includes(field)),
    ),
  )
  expect(strays).toEqual([])
})

test('a clean bay is cleared, with the ordinary conditions', () => {
  expect(clear(CLEAN)).toEqual({ ok: true })
  expect(conditions(CLEAN)).toEqual({
    ...DEFAULT_CONDITIONS,
    sprinklerSystem: 'in_service',
    extinguisher: { ratingA: 2, ratingB: 20, distanceFt: 30 },
  })
})

describe('surveyProgress', () => {
  test('counts answers and names the next open item', () => {
    expect(surveyProgress(AREA, {})).toEqual({
      total: 17,
      answered: 0,
      left: 17,
      next: 'since_last',
      blocked: [],
    })
    const { burnables: _, ...rest } = CLEAN
    expect(surveyProgress(AREA, rest)).toMatchObject({ left: 1, next: 'burnables' })
    expect(codes(clear(rest))).toEqual(['survey_unanswered'])
  })

  test('an answer that still owes its distance or its cover is not an answer', () => {
    const burnables = { choice: 'covered', what: 'Pipe lagging', distanceFt: 22 }
    expect(surveyProgress(AREA, { ...CLEAN, burnables })).toMatchObject({
      left: 1,
      next: 'burnables',
    })
    const covered = { ...burnables, cover: 'listed_pad' as const }
    expect(surveyProgress(AREA, { ...CLEAN, burnables: covered }).left).toBe(0)
    expect(surveyProgress(AREA, { ...CLEAN, burnables: { choice: 'no_such_choice' } }).left).toBe(1)
    expect(
      surveyProgress(AREA, { ...CLEAN, burnables: { ...covered, distanceFt: Number.NaN } }).left,
    ).toBe(1)
  })
})

describe('what burns', () => {
  test('neither moved nor covered stops the job at once, with the rules that say so', () => {
    const burnables = { choice: 'neither', what: 'Bales', distanceFt: 20 }
    const item = SURVEY_ITEMS.find((one) => one.id === 'burnables')
    if (!item) throw new Error('no such item')
    expect(answerReasons(item, burnables).map((one) => one.code)).toEqual(['survey_blocked'])
    const refused = reasonsOf(clear({ ...CLEAN, burnables }))
    expect(refused[0]).toEqual({
      code: 'survey_blocked',
      params: { item: 'burnables', choice: 'neither' },
    })
    expect(refused.map((one) => one.ruleId)).toContain('osha1910-restriction-no-work-if-neither')
  })

  test('covered under 35 ft still wants a watch', () => {
    const burnables = {
      choice: 'covered',
      what: 'Pipe lagging',
      distanceFt: 22,
      cover: 'rigid_cover' as const,
    }
    const answer = evaluate([RULESETS['us-osha-1910']], conditions({ ...CLEAN, burnables }))
    expect(answer.required).toBe('yes')
    expect(answer.precautions.map((one) => one.id)).toContain('cover-or-shield-combustibles')
  })

  test('moved wants none, unless sparks reach something further away', () => {
    const moved = { choice: 'moved', what: 'Pallets', distanceFt: 20 }
    const needed = (sparksReachFt: number | null) =>
      evaluate(
        [RULESETS['us-osha-1910']],
        conditions({ ...CLEAN, burnables: { ...moved, sparksReachFt } }),
      ).required
    expect(needed(null)).toBe('no')
    expect(needed(50)).toBe('yes')
  })
})

test.each([
  [34, 'yes'],
  [35, 'yes'],
  [36, 'judgement'],
])('a doorway at %d ft with something beyond it: a watch, %s', (distanceFt, required) => {
  const openings = { choice: 'watched_beyond', what: 'Doorway', distanceFt }
  expect(evaluate([RULESETS['us-osha-1910']], conditions({ ...CLEAN, openings })).required).toBe(
    required,
  )
})

const PLACE: Partial<Record<SurveyItemId, AreaFacts>> = {
  ship_space: SHIP,
  drop_zone: { ...AREA, levelFt: 24 },
  burn_ban: OUTDOORS,
  wind: OUTDOORS,
}

test.each(
  SURVEY_ITEMS.flatMap((item) =>
    item.choices
      .filter((choice) => choice.mark === 'blocked')
      .map((choice) => [item.id, choice.id] as const),
  ),
)('%s answered "%s" is refused by the survey and by a rule', (item, choice) => {
  const answers = { ...CLEAN, [item]: { choice, what: 'it', distanceFt: 5 } }
  // Cylinders inside matter only inside a space.
  const area = { ...(PLACE[item] ?? AREA), enclosed: item === 'cylinders' }
  const process = item.startsWith('tap_') ? 'hot_tapping' : 'oxyfuel_cutting'
  const refused = codes(clear(answers, area, process))
  expect(refused).toContain('survey_blocked')
  expect(refused).toContain('rules_refuse')
})

test('a standing fact is never talked away on the spot', () => {
  const timber = { ...AREA, floor: 'combustible' as const, wall: 'sandwich_panel' as const }
  expect(conditions(CLEAN, timber)).toMatchObject({ floor: 'combustible', wall: 'sandwich_panel' })
  expect(codes(clear(CLEAN, timber))).toContain('rules_refuse')
})

test('a tank of a ship, or what adjoins one, waits for a marine chemist; a competent person is not enough', () => {
  const tank = { ...AREA, shipyardSpace: 'tank_or_adjacent' as const }
  expect(codes(clear(CLEAN, tank))).toEqual(['rules_refuse'])
  const certified = { choice: 'marine_chemist', what: 'Certificate 88' }
  expect(clear({ ...CLEAN, ship_space: certified }, tank)).toEqual({ ok: true })
  expect(clear({ ...CLEAN, ship_space: certified }, SHIP)).toEqual({ ok: true })
  expect(clear(CLEAN, SHIP)).toEqual({ ok: true })
})

test('outside shipyards nobody is asked about a ship’s spaces', () => {
  const asked = (area: AreaFacts) => surveyItems(area).map((item) => item.id)
  expect(asked({ ...AREA, shipyardSpace: 'none' })).not.toContain('ship_space')
  expect(asked(AREA)).not.toContain('ship_space')
  expect(asked(SHIP)).toContain('ship_space')
})

test('the last gas test and the area reach the rules', () => {
  const tested = conditionsFrom({
    area: { ...AREA, confinedSpace: true },
    areaClass: 'not_permitted',
    answers: CLEAN,
    gasTests: [
      { takenAt: at(5), oxygenPct: 18, lelPct: 3, coPpm: null, h2sPpm: null },
      { takenAt: at(1), oxygenPct: 20.9, lelPct: 0, coPpm: null, h2sPpm: null },
    ],
    process: 'heating',
    roles: { operator: 'p1', authoriser: null, fireWatch: null },
    isFireWatchTrained: false,
  })
  expect(tested).toMatchObject({
    oxygenPercent: 18,
    lflPercent: 3,
    areaClass: 'non_permissible',
    areaAuthorized: false,
    confinedSpace: true,
    enclosed: true,
    fireWatchTrained: false,
  })
})

describe('in the open', () => {
  const asked = (area: AreaFacts) => surveyItems(area).map((item) => item.id)

  test('a burn ban and the wind are asked about, and indoors neither', () => {
    expect(asked(OUTDOORS)).toEqual(expect.arrayContaining(['burn_ban', 'wind']))
    expect(asked(AREA)).not.toContain('burn_ban')
    expect(asked(AREA)).not.toContain('wind')
    expect(clear(CLEAN, OUTDOORS)).toEqual({ ok: true })
  })

  // 15 mph outside enclosures: Tarrant County (Texas) fire marshal, outdoor welding during burn bans.
  test.each([
    [15, []],
    [15.1, ['rules_refuse']],
  ])('a wind of %d mph at a limit of 15: %j', (windMph, expected) => {
    const wind = { choice: 'measured', windMph }
    expect(codes(clear({ ...CLEAN, wind }, OUTDOORS))).toEqual(expected)
  })

  test('a ruleset of the site may stop earlier, and shelter takes the wind away', () => {
    const local = { ...RULESETS['us-osha-1910'], parameters: { ...SILENT, windMaxMph: 10 } }
    const refuses = (answers: SurveyAnswers) =>
      evaluate([local], conditions(answers, OUTDOORS)).reasons.map((one) => one.code)
    expect(refuses({ ...CLEAN, wind: { choice: 'measured', windMph: 10.5 } })).toEqual([
      'wind_over',
    ])
    expect(refuses({ ...CLEAN, wind: { choice: 'sheltered', what: 'Tent' } })).toEqual([])
    expect(missingDetails(itemOf('wind'), { choice: 'measured' })).toEqual(['windMph'])
  })
})

test('above ground the walk asks who is below, and on the ground it does not', () => {
  const asked = (levelFt: number) => surveyItems({ ...AREA, levelFt }).map((item) => item.id)
  expect(asked(24)).toContain('drop_zone')
  expect(asked(0)).not.toContain('drop_zone')
  const barred = { ...CLEAN, drop_zone: { choice: 'barred', what: 'Tape, both ways in' } }
  expect(clear(barred, { ...AREA, levelFt: 24 })).toEqual({ ok: true })
})

describe('a hot tap', () => {
  const tapped = (over: SurveyAnswers) =>
    clear({ ...CLEAN, inside_piece: { choice: 'live_line' }, ...over }, AREA, 'hot_tapping')

  test('is asked about its crew, its plan and the line, and goes ahead when all are there', () => {
    const asked = surveyItems({ ...AREA, process: 'hot_tapping' }).map((item) => item.id)
    expect(asked).toEqual(expect.arrayContaining(['tap_crew', 'tap_plan', 'tap_line']))
    expect(surveyItems(AREA).map((item) => item.id)).not.toContain('tap_crew')
    expect(tapped({})).toEqual({ ok: true })
  })

  // IFC 2018, 3504.1.7: only approved personnel.
  test('by a crew nobody spoke of is refused by a rule, whatever else was answered', () => {
    const { tap_crew: _unsaid, ...rest } = CLEAN
    const found = conditions(
      { ...rest, inside_piece: { choice: 'live_line' } },
      AREA,
      'hot_tapping',
    )
    expect(found.crewApproved).toBe(false)
    const { reasons } = evaluate([RULESETS['us-ifc-2018']], found)
    expect(reasons.map(({ code, ruleId }) => [code, ruleId])).toEqual([
      ['live_line_crew', 'ifc-hot-tapping'],
    ])
    expect(codes(tapped({ tap_crew: { choice: 'approved' } }))).toContain('survey_unanswered')
  })

  test('is the only work on a live line', () => {
    const line = { ...CLEAN, inside_piece: { choice: 'live_line' } }
    expect(codes(clear(line))).toContain('rules_refuse')
  })
})

test('what was disabled is listed, to be put back before closing', () => {
  const answers: SurveyAnswers = {
    ...CLEAN,
    detectors: { choice: 'shielded', what: 'Smoke detector, bay 2' },
    sprinklers: { choice: 'heads_shielded' },
  }
  expect(impairmentsFrom(AREA, answers)).toEqual([
    { item: 'sprinklers', what: '' },
    { item: 'detectors', what: 'Smoke detector, bay 2' },
  ])
})

test('every answer of the clean walk is a choice that owes nothing', () => {
  const owing = SURVEY_ITEMS.filter((item) => {
    const answer = CLEAN[item.id satisfies SurveyItemId]
    return !answer || choiceOf(item, answer) === null || missingDetails(item, answer).length > 0
  })
  expect(owing).toEqual([])
})
