import { describe, expect, test } from 'vitest'
import { findRule } from '@/lib/rules/catalogue'
import { COMPANY_LAYER, RULESETS, rulesetsOn } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'

describe('resolveParameters', () => {
  test('names the strictest layer and its rule, and how many were asked', () => {
    const site = [RULESETS['us-osha-1926'], RULESETS['us-ifc-2018'], RULESETS['us-nfpa51b-2019']]
    const resolved = resolveParameters(site, COMPANY_LAYER)
    expect(resolved.watchMin.value).toBe(60)
    expect(resolved.watchMin.setBy).toEqual([
      { layerId: 'us-nfpa51b-2019', ruleId: 'nfpa51b-2019-fw-post-60' },
      { layerId: 'company', ruleId: null },
    ])
    // Three rulesets, the company and the air of confined spaces.
    expect(resolved.watchMin.layersAsked).toBe(5)
    expect(resolved.statementRequired.setBy[0]?.layerId).toBe('us-osha-1926')
    expect(findRule(resolved.statementRequired.setBy[0]?.ruleId ?? null)?.citation).toBe(
      '29 CFR 1926.352(e)',
    )
    expect(resolved.capHours.value).toBe(24)
    expect(resolved.reinspectEachShift.value).toBe(true)
    expect(resolved.gasOffAfterIdleMin.value).toBe(60)
  })

  test('takes the narrower oxygen range and no flammable gas at all in an enclosed space', () => {
    const resolved = resolveParameters([RULESETS['us-osha-1910']], COMPANY_LAYER)
    expect([resolved.oxygenMinPct.value, resolved.oxygenMaxPct.value]).toEqual([19.5, 23.5])
    expect([resolved.enclosedOxygenMinPct.value, resolved.enclosedOxygenMaxPct.value]).toEqual([
      19.5, 22,
    ])
    expect(resolved.enclosedLelMaxPct.value).toBe(0)
    expect(resolved.lelStopAtPct).toMatchObject({
      value: 10,
      setBy: [{ layerId: 'company', ruleId: 'osha1926-800-hotwork-suspend-10' }],
    })
  })

  test('without any published layer the company layer and the confined-space air still hold', () => {
    const resolved = resolveParameters([], COMPANY_LAYER)
    expect(resolved.watchMin.value).toBe(60)
    expect(resolved.roundIntervalMin.value).toBe(10)
    expect(resolved.layers.map((one) => one.id)).toEqual(['company', 'always'])
  })
})

test('a ruleset counts only on the days it is in force', () => {
  expect(rulesetsOn(['us-ifc-2018', 'us-osha-1910'], '2026-03-02').map((one) => one.id)).toEqual([
    'us-ifc-2018',
    'us-osha-1910',
  ])
  expect(rulesetsOn(['us-ifc-2018'], '2018-12-31')).toEqual([])
})
