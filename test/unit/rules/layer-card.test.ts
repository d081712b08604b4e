import { createTranslator } from 'next-intl'
import { describe, expect, test } from 'vitest'
import type { Say } from '@/app/_components/form/reason-words'
import { conditionWords } from '@/app/_components/rules/condition-words'
import { type ConditionField, DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { layerCard, ruleSource } from '@/lib/rules/layer-card'
import { ALWAYS_LAYER, COMPANY_LAYER, RULESETS } from '@/lib/rules/layers'
import { PROBES } from '@/lib/rules/probes'
import messages from '@/messages/en.json'

const failures: string[] = []
const t = createTranslator({
  locale: 'en',
  messages: messages as Record<string, unknown>,
  onError: (error) => failures.push(error.message),
}) as unknown as Say
const prefs = { units: 'us', clock: '24', timeZone: 'America/New_York' } as const
const LAYERS = [...Object.values(RULESETS), ALWAYS_LAYER, COMPANY_LAYER]

describe('a layer as a person checks it', () => {
  test('shows the values it sets with their rules, and none that it is silent on', () => {
    const card = layerCard(RULESETS['us-osha-1915'])
    // 29 CFR 1915.11(b) and 1915.12: 22.0 % oxygen is enriched, 10 % of the LEL is a hazard.
    expect(card.values.find((one) => one.name === 'oxygenStopAtPct')?.value).toBe(22)
    expect(card.values.find((one) => one.name === 'lelStopAtPct')?.value).toBe(10)
    expect(card.values.map((one) => one.name)).not.toContain('capHours')
    expect(card.values.find((one) => one.name === 'postWatchMin')?.source?.citation).toContain(
      '1915.504',
    )
  })

  test.each(LAYERS.map((layer) => [layer.id, layer] as const))(
    'every value of %s that rests on a rule names where it stands, and has words',
    (_id, layer) => {
      failures.length = 0
      for (const { name, source } of layerCard(layer).values) {
        if (layer.parameterRules[name]) expect(source?.citation).toBeTruthy()
        t(`rules.parameters.${name}` as never)
      }
      t(`rules.trust.${layer.trustWhy}` as never)
      t(`rules.provenance.${layer.provenance}` as never)
      expect(failures).toEqual([])
    },
  )

  test('says that a rule known from memory was not read', () => {
    expect(ruleSource('osha1910-firesafe-area-only')?.provenance).toBe('memory')
    expect(ruleSource('no-such-rule')).toBeNull()
  })
})

test('every condition of every published case has words, in the reader’s units', () => {
  failures.length = 0
  for (const { conditions } of PROBES) {
    const c = { ...DEFAULT_CONDITIONS, ...conditions }
    for (const field of Object.keys(c) as ConditionField[]) {
      const value = c[field]
      const shown = { field, value: typeof value === 'object' ? null : value }
      expect(conditionWords(t, shown, prefs)).not.toBe('')
    }
  }
  expect(failures).toEqual([])
  expect(conditionWords(t, { field: 'nearestCombustibleFt', value: 20 }, prefs)).toMatch(
    /: 20\.0\sft$/,
  )
  expect(
    conditionWords(t, { field: 'nearestCombustibleFt', value: 35 }, { ...prefs, units: 'si' }),
  ).toMatch(/: 10\.7\sm$/)
})
