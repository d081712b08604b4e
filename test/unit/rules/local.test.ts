import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate } from '@/lib/rules/evaluate'
import { COMPANY_LAYER, editionOn, RULESETS, rulesetsOn, SILENT } from '@/lib/rules/layers'
import {
  changedParameters,
  companyProblems,
  LOCAL_PROBLEM_CODES,
  type LocalInput,
  type LocalRead,
  missingCompanyParameters,
  readLocalRuleset,
  tryLayer,
} from '@/lib/rules/local'
import { isLaxer, PARAMETER_NAMES, PARAMETER_RULES } from '@/lib/rules/parameters'
import { PROBE_DEFAULTS, PROBES } from '@/lib/rules/probes'
import { resolveParameters } from '@/lib/rules/resolve'
import { trialOf } from '@/lib/rules/trial'
import type { Layer } from '@/lib/rules/types'
import { localLayer } from './arbitrary'
import { conditionsOf, vectors } from './vectors'

// An order that an administrator typed in: a look after half an hour, whatever the work was.
const CITY: LocalInput = {
  id: 'city-order',
  version: 1,
  label: 'City order on open flames',
  citation: 'Order 12, section 4',
  edition: '2024',
  provenance: 'read',
  effectiveFrom: '2024-05-01',
  effectiveTo: null,
  parameters: { finalLookAtMin: 30, postWatchMin: 90, watchEveryPermit: true },
  precautions: ['operational-permit', 'warning-sign'],
}
const problemsOf = (read: LocalRead) => (read.ok ? [] : read.problems)
const codesOf = (over: LocalInput, known: readonly Layer[] = []) =>
  problemsOf(readLocalRuleset({ ...CITY, ...over }, known)).map((one) => one.code)
function layerOf(over: LocalInput = {}): Layer {
  const read = readLocalRuleset({ ...CITY, ...over })
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.layer
}

test('the cases a layer is tried on are the published ones', () => {
  const published = vectors.filter((one) => one.kind === 'permit')
  expect(PROBES.map((one) => one.id)).toEqual(published.map((one) => one.id))
  for (const [index, one] of published.entries())
    expect({ ...PROBE_DEFAULTS, ...PROBES[index]?.conditions }).toEqual(conditionsOf(one))
})

test('every parameter of a layer has a rule, and the texts lie within the bounds', () => {
  expect([...PARAMETER_NAMES].sort()).toEqual(Object.keys(SILENT).sort())
  for (const layer of [...Object.values(RULESETS), COMPANY_LAYER]) {
    for (const name of PARAMETER_NAMES) {
      const value = layer.parameters[name]
      if (typeof value !== 'number') continue
      expect(value).toBeGreaterThanOrEqual(PARAMETER_RULES[name].min)
      expect(value).toBeLessThanOrEqual(PARAMETER_RULES[name].max)
    }
  }
})

describe('a ruleset typed in', () => {
  test('becomes a layer that sets what it names and adds its precautions', () => {
    const layer = layerOf()
    expect(layer).toMatchObject({ id: 'local:city-order', trustPct: null, trustWhy: 'typedIn' })
    const site = [RULESETS['us-osha-1910']]
    const [before, after] = [
      evaluate(site, DEFAULT_CONDITIONS),
      evaluate([...site, layer], DEFAULT_CONDITIONS),
    ]
    expect([before.required, before.postWatchMin]).toEqual(['no', null])
    expect([after.required, after.postWatchMin, after.closeEarliestMin]).toEqual(['yes', 90, 90])
    const added = after.precautions.find((one) => one.id === 'operational-permit')
    expect(added).toEqual({ id: 'operational-permit', rules: [], conditions: ['areaClass'] })
    expect(resolveParameters([...site, layer], COMPANY_LAYER).watchMin).toMatchObject({
      value: 90,
      setBy: [{ layerId: 'local:city-order', ruleId: null }],
    })
  })

  test('wants its watch named like the house does', () => {
    const nobody = {
      ...DEFAULT_CONDITIONS,
      roles: { ...DEFAULT_CONDITIONS.roles, fireWatch: null },
    }
    expect(evaluate([layerOf()], nobody).decision).toBe('forbidden_until_corrected')
    expect(evaluate([layerOf({ parameters: { capHours: 8 } })], nobody).decision).toBe(
      'allowed_with_precautions',
    )
  })

  test.each([
    [{ id: 'City Order' }, 'id_form'],
    [{ version: 0 }, 'version_form'],
    [{ version: 1.5 }, 'version_form'],
    [{ label: '  ' }, 'label_missing'],
    [{ citation: '' }, 'citation_missing'],
    [{ edition: undefined }, 'edition_missing'],
    [{ provenance: 'house' }, 'provenance_form'],
    [{ effectiveFrom: '1 May' }, 'day_form'],
    [{ effectiveFrom: '2024-02-30' }, 'day_form'],
    [{ effectiveTo: '2024-13-01' }, 'day_form'],
    [{ effectiveTo: '2024-04-30' }, 'ends_before_start'],
    [{ parameters: { watchMinutes: 60 } }, 'unknown_parameter'],
    [{ parameters: { toString: 1 } }, 'unknown_parameter'],
    [{ parameters: { postWatchMin: '60' } }, 'not_a_number'],
    [{ parameters: { postWatchMin: Number.NaN } }, 'not_a_number'],
    [{ parameters: { statementRequired: 1 } }, 'not_a_flag'],
    [{ parameters: { postWatchMin: -1 } }, 'out_of_bounds'],
    [{ parameters: { postWatchMin: 1441 } }, 'out_of_bounds'],
    [{ parameters: { postWatchMin: 30.5 } }, 'not_whole'],
    [{ precautions: ['pray'] }, 'unknown_precaution'],
    [{ parameters: { postWatchMin: null }, precautions: [] }, 'nothing_asked'],
    [{ parameters: [], precautions: 'warning-sign' }, 'nothing_asked'],
  ] as const)('%o is refused: %s', (over, code) => {
    expect(codesOf(over as LocalInput)).toEqual([code])
  })

  test('says everything that is wrong at once, by field', () => {
    const read = readLocalRuleset({ parameters: { capHours: 0 }, precautions: ['nothing'] })
    expect(problemsOf(read).map((one) => one.field)).toEqual([
      'id',
      'version',
      'label',
      'citation',
      'edition',
      'provenance',
      'effectiveFrom',
      'parameters.capHours',
      'precautions',
    ])
  })

  test('no edition shares a number or a first day with another', () => {
    const known = [layerOf()]
    expect(codesOf({}, known)).toEqual(['id_taken'])
    expect(codesOf({ version: 2 }, known)).toEqual(['id_taken'])
    expect(codesOf({ effectiveFrom: '2025-01-01' }, known)).toEqual(['id_taken'])
    expect(codesOf({ version: 2, effectiveFrom: '2025-01-01' }, known)).toEqual([])
  })

  test('every problem there is can happen', () => {
    const local = [
      ...['laxer_than_layers', 'not_for_the_company', 'range_empty', 'id_taken'],
      'company_silent',
    ]
    const covered = new Set([
      ...local,
      ...['id_form', 'version_form', 'label_missing', 'citation_missing', 'edition_missing'],
      ...['provenance_form', 'day_form', 'ends_before_start', 'unknown_parameter', 'not_a_number'],
      ...['not_a_flag', 'out_of_bounds', 'not_whole', 'unknown_precaution', 'nothing_asked'],
    ])
    expect([...covered].sort()).toEqual([...LOCAL_PROBLEM_CODES].sort())
  })
})

describe('tried on the published cases', () => {
  const site = [RULESETS['us-osha-1910'], RULESETS['us-ifc-2018'], COMPANY_LAYER]

  test('says which answers change, and that none gets looser', () => {
    const rows = tryLayer(layerOf(), site)
    expect(rows).toHaveLength(54)
    expect(rows.flatMap((row) => row.loosened)).toEqual([])
    const clear = rows.find((row) => row.probeId === 'pv-002-permit-area-clear')
    expect(clear?.isChanged).toBe(true)
    expect([clear?.before.postWatchMin, clear?.after.postWatchMin]).toEqual([60, 90])
  })

  test('a layer that asks for less than the others changes nothing', () => {
    const lax = layerOf({ parameters: { postWatchMin: 5, capHours: 100 }, precautions: [] })
    expect(tryLayer(lax, site).filter((row) => row.isChanged)).toEqual([])
  })

  test('a new edition is tried in place of the one it follows', () => {
    const [first, second] = [layerOf(), layerOf({ version: 2, parameters: { postWatchMin: 45 } })]
    const clear = tryLayer(second, [...site, first]).find((row) => row.probeId.startsWith('pv-002'))
    expect([clear?.before.postWatchMin, clear?.after.postWatchMin]).toEqual([90, 60])
    expect(clear?.loosened).toEqual([])
  })

  test('whatever is typed in, no published case gets looser', () => {
    fc.assert(
      fc.property(localLayer, (layer) => {
        expect(tryLayer(layer, site).flatMap((row) => row.loosened)).toEqual([])
      }),
      { numRuns: 40 },
    )
  })
})

describe('the company’s own numbers', () => {
  const site = [RULESETS['us-osha-1910'], RULESETS['us-nfpa51b-2019']]

  test('may be stricter than every layer in force', () => {
    expect(companyProblems({ postWatchMin: 61, capHours: 12, finalCheckMin: null }, site)).toEqual(
      [],
    )
  })

  test('may not be laxer: the layer that has more is named', () => {
    const problems = companyProblems(
      { postWatchMin: 59, capHours: 25, reinspectEachShift: false },
      site,
    )
    expect(problems).toEqual([
      {
        code: 'laxer_than_layers',
        field: 'parameters.postWatchMin',
        params: { name: 'postWatchMin', layer: 'us-nfpa51b-2019', limit: '60' },
      },
      {
        code: 'laxer_than_layers',
        field: 'parameters.capHours',
        params: { name: 'capHours', layer: 'us-nfpa51b-2019', limit: '24' },
      },
      {
        code: 'laxer_than_layers',
        field: 'parameters.reinspectEachShift',
        params: { name: 'reinspectEachShift', layer: 'us-nfpa51b-2019', limit: 'true' },
      },
    ])
  })

  test('may not let a survey end a watch, nor leave no oxygen range', () => {
    const problems = companyProblems(
      { surveyMayEndWatch: true, oxygenMinPct: 20.9, oxygenMaxPct: 20.9 },
      [],
    )
    expect(problems.map((one) => one.code)).toEqual(['not_for_the_company'])
    const empty = companyProblems({ enclosedOxygenMinPct: 20.9, enclosedOxygenMaxPct: 20.8 }, [])
    expect(empty.map((one) => one.code)).toEqual(['out_of_bounds', 'range_empty'])
  })

  test('stricter is a matter of each parameter', () => {
    expect(isLaxer('postWatchMin', 30, 60)).toBe(true)
    expect(isLaxer('capHours', 30, 24)).toBe(true)
    expect(isLaxer('capHours', 12, 24)).toBe(false)
    expect(isLaxer('statementRequired', false, true)).toBe(true)
    expect(isLaxer('monitoringMaxMin', 10, 180)).toBe(false)
    expect(isLaxer('lelMaxPct', 11, null)).toBe(false)
  })
})

describe('editions by day', () => {
  const first = layerOf({ effectiveTo: null })
  const second = layerOf({
    version: 2,
    effectiveFrom: '2026-03-01',
    parameters: { postWatchMin: 120 },
  })
  const ended = layerOf({ id: 'old-order', effectiveTo: '2025-12-31' })
  const local = [second, first, ended]

  test.each([
    ['2024-04-30', null],
    ['2024-05-01', 1],
    ['2026-02-28', 1],
    ['2026-03-01', 2],
  ] as const)('on %s edition %s is in force', (day, version) => {
    expect(editionOn(local, 'local:city-order', day)?.version ?? null).toBe(version)
  })

  test('an old permit is judged by the rules of its day', () => {
    const ids = ['us-osha-1910', 'local:city-order', 'local:old-order'] as const
    const versions = (day: string) =>
      rulesetsOn(ids, day, local).map((one) => [one.id, one.version])
    expect(versions('2025-12-31')).toEqual([
      ['us-osha-1910', 1],
      ['local:city-order', 1],
      ['local:old-order', 1],
    ])
    expect(versions('2026-03-02')).toEqual([
      ['us-osha-1910', 1],
      ['local:city-order', 2],
    ])
    const watch = (day: string) => evaluate(rulesetsOn(ids, day, local), DEFAULT_CONDITIONS)
    expect(watch('2025-06-01').postWatchMin).toBe(90)
    expect(watch('2026-03-02').required).toBe('no')
  })

  test('a text is not in force before its edition', () => {
    expect(rulesetsOn(['uk-jcop10', 'us-nfpa241-2022'], '2021-12-31')).toEqual([])
    expect(rulesetsOn(['uk-jcop10', 'us-nfpa241-2022'], '2023-01-01')).toHaveLength(2)
  })
})

describe('the trial of a layer', () => {
  const site = [RULESETS['us-osha-1910'], RULESETS['us-ifc-2018'], COMPANY_LAYER]

  test('tells which cases change, how, and which values count for nothing', () => {
    const trial = trialOf(layerOf({ parameters: { postWatchMin: 90, capHours: 48 } }), site)
    expect(trial.cases).toBe(PROBES.length)
    expect(trial.loosened).toEqual([])
    expect(trial.changed.length).toBeGreaterThan(0)
    // The company's 24 h is the stricter.
    expect(trial.idle).toEqual([{ name: 'capHours', layerId: 'company' }])
    expect(trial.changed[0]?.added).toContain('warning-sign')
  })

  test('tells where a new edition asks for less than the one it replaces', () => {
    const before = layerOf({ parameters: { postWatchMin: 120, watchEveryPermit: true } })
    const after = layerOf({ version: 2, parameters: { postWatchMin: 60 } })
    const trial = trialOf(after, [...site, before])
    expect(trial.loosened).toEqual([])
    expect(trial.lessThanNow.length).toBeGreaterThan(0)
    expect(trial.lessThanNow.flatMap((one) => one.what)).toContain('postWatchMin')
    expect(trialOf(before, site).lessThanNow).toEqual([])
  })
})

test('the company’s flags that stay off are no change, and one that goes off is', () => {
  const kept = { ...COMPANY_LAYER.parameters, reinspectEachShift: false, statementRequired: true }
  const typed = { ...kept, statementRequired: false, postWatchMin: 75, capHours: null }
  expect(changedParameters(typed, kept)).toEqual({
    statementRequired: false,
    postWatchMin: 75,
    capHours: null,
  })
  // NFPA 51B looks again each shift; a company that is silent on it is not laxer for that.
  const layers = [RULESETS['us-nfpa51b-2019']]
  expect(companyProblems(changedParameters({ ...kept }, kept), layers)).toEqual([])
})

test('the company’s layer may not be silent on what the texts leave open', () => {
  expect(missingCompanyParameters({ ...COMPANY_LAYER.parameters })).toEqual([])
  const silent = { ...COMPANY_LAYER.parameters, roundIntervalMin: null }
  expect(missingCompanyParameters(silent).map((one) => one.field)).toEqual([
    'parameters.roundIntervalMin',
  ])
})
