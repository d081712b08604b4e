import { createTranslator } from 'next-intl'
import { describe, expect, test } from 'vitest'
import { PERMIT_REASON_CODES } from '@/lib/permit/reasons'
import { SURVEY_GROUPS, SURVEY_ITEMS } from '@/lib/permit/survey'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { CURE_CODES } from '@/lib/rules/cure'
import { ALWAYS_LAYER, COMPANY_LAYER, RULESETS } from '@/lib/rules/layers'
import { LOCAL_PROBLEM_CODES } from '@/lib/rules/local'
import { PARAMETER_NAMES } from '@/lib/rules/parameters'
import { PROBES } from '@/lib/rules/probes'
import { resolveParameters } from '@/lib/rules/resolve'
import { ROWS, WATCH_ROWS } from '@/lib/rules/rows'
import { DECISION_ORDER, PRECAUTION_IDS, RULESET_IDS } from '@/lib/rules/types'
import messages from '@/messages/en.json'

const failures: string[] = []
const t = createTranslator({
  locale: 'en',
  messages: messages as Record<string, unknown>,
  onError: (error) => failures.push(error.message),
}) as unknown as ((key: string, params?: Record<string, string | number>) => string) & {
  has: (key: string) => boolean
}

const SAMPLE = {
  // The kit turns instants, whose names end in At, into clock times of the place.
  whenAt: '13:57',
  untilAt: '14:30',
  number: 'H-77',
  fromAt: '13:00',
  toAt: '13:30',
  person: 'Owen Reyes',
  first: 'operator',
  second: 'fire_watch',
  state: 'held',
  item: 'burnables',
  choice: 'neither',
  why: 'sprinklers_impaired',
  decision: 'forbidden',
  layer: 'us-osha-1910',
  cure: 'restore-impairment-first',
  act: 'agree',
  kind: 'pai',
  role: 'operator',
  area: 'Deck 3',
  outfit: 'Outfit 7',
  serial: 'OX-20417',
  gas: 'oxygen',
  side: 'acetylene',
  step: 'bled',
  post: 'Deck 2',
  of: 'Far side',
  isKnown: 'yes',
  sheet: 'Deck 2',
  answer: 'warm',
  label: 'Detector',
  count: 2,
  minutes: 29,
  hours: 24,
  validMin: 60,
  ageMin: 200,
  withinMin: 30,
  agoMin: 45,
  limitMin: 30,
  capHours: 24,
  value: 19.4,
  instrument: 'GM-3',
  limit: 19.5,
  mph: 22,
  client: 'Marlow Mills',
  maxMph: 15,
}
const BANNED = /please|sorry|oops|invalid|error|!|\{|\}/i

test.each(PERMIT_REASON_CODES)(
  'the refusal %s has words, in the house’s tone, that end in a full stop',
  (code) => {
    failures.length = 0
    const words = t(`permitReasons.${code}`, SAMPLE)
    expect(failures).toEqual([])
    expect(words).not.toMatch(BANNED)
    expect(words).toMatch(/\.$/)
  },
)

test('there are no words for refusals that do not exist', () => {
  expect(Object.keys(messages.permitReasons).sort()).toEqual([...PERMIT_REASON_CODES].sort())
})

describe('a refusal by a rule', () => {
  const blocking = new Set<string>(DECISION_ORDER.slice(0, 4))
  const codes = [
    ...ROWS.filter((row) =>
      [...Object.keys(row.decides ?? {}), ...Object.values(row.house ?? {})].some(
        (decision) => decision !== undefined && blocking.has(decision),
      ),
    ),
    ...WATCH_ROWS.filter((row) =>
      Object.values(row.decides).some((decides) => decides && blocking.has(decides.yes)),
    ),
  ].map((row) => row.code)

  test.each(codes)('%s has words of its own', (why) => {
    const fallback = t('permitReasons.rules_refuse', { ...SAMPLE, why: 'none of them' })
    expect(t('permitReasons.rules_refuse', { ...SAMPLE, why })).not.toBe(fallback)
  })
})

test('refusals read as the house writes them', () => {
  expect(t('permitReasons.watch_owed', SAMPLE)).toBe('Watch has 29 min to go. It can end at 13:57.')
  expect(t('permitReasons.cylinder_wrong_gas', SAMPLE)).toBe(
    'OX-20417 is an oxygen cylinder. This hose is acetylene. Swap not made.',
  )
})

test('precautions, layers, decisions, conditions and parameters all have words', () => {
  const layers = [...RULESET_IDS.map((id) => RULESETS[id]), COMPANY_LAYER, ALWAYS_LAYER]
  const { layers: _, ...parameters } = resolveParameters([], COMPANY_LAYER)
  const keys = [
    ...PRECAUTION_IDS.map((id) => `precautions.${id}`),
    ...layers.flatMap((one) => [
      `rules.layers.${one.id}`,
      `rules.trust.${one.trustWhy}`,
      `rules.provenance.${one.provenance}`,
    ]),
    ...CURE_CODES.map((code) => `rules.cures.${code}`),
    ...DECISION_ORDER.map((decision) => `rules.decisions.${decision}`),
    ...Object.keys(DEFAULT_CONDITIONS).map((field) => `rules.conditions.${field}`),
    ...PARAMETER_NAMES.map((name) => `rules.parameters.${name}`),
    ...PROBES.map((probe) => `rules.probes.${probe.id}`),
    ...LOCAL_PROBLEM_CODES.map((code) => `rules.problems.${code}`),
    'rules.trust.typedIn',
    ...Object.keys(parameters).map((name) => `rules.parameters.${name}`),
  ]
  expect(keys.filter((key) => !t.has(key))).toEqual([])
})

test('every item and every choice of the survey has words', () => {
  const keys = [
    ...SURVEY_GROUPS.map((group) => `clearance.groups.${group}`),
    ...SURVEY_ITEMS.flatMap((item) => [
      `clearance.items.${item.id}.title`,
      `clearance.items.${item.id}.ask`,
      ...item.choices.map((choice) => `clearance.items.${item.id}.choices.${choice.id}`),
    ]),
  ]
  expect(keys.filter((key) => !t.has(key))).toEqual([])
})
