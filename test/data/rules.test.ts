import { v7 as uuidv7 } from 'uuid'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getPermit } from '@/lib/data/permits/get'
import { getSiteRules } from '@/lib/data/rules'
import { leaveRuleset, saveLocalRuleset, takeOnRuleset } from '@/lib/data/rules-acts'
import { getCompanyLayer, saveCompanyLayer } from '@/lib/data/rules-company'
import { localDay, nextDay } from '@/lib/format/local-time'
import { PARAMETER_NAMES } from '@/lib/rules/parameters'
import {
  companyLayerSchema,
  localRulesetSchema,
  parameterBox,
  siteRulesetSchema,
} from '@/lib/schemas/rules'
import { buildPerson } from '../../seed/builders/people'
import type { Worksite } from '../../seed/builders/permits'
import { buildOpenPermit, buildPreparedPermit, buildWorksite } from '../../seed/builders/permits'
import { databaseNow } from '../../seed/play'
import { testDatabase } from '../setup/database'
import { refusedFor, viewerOf, viewersOf } from './permit-world'
import { atMinute } from './watch-world'

const db = () => testDatabase().owner
let worksite: Worksite
let administrator: Viewer
let elsewhere: Worksite
let minute = 0
const later = () => atMinute(++minute)

async function administratorOf({ site }: Worksite): Promise<Viewer> {
  const person = await buildPerson(db(), { grants: [{ siteId: site.id, role: 'administrator' }] })
  return viewerOf(person, site.id, 'administrator')
}

beforeAll(async () => {
  worksite = await buildWorksite(db())
  elsewhere = await buildWorksite(db())
  administrator = await administratorOf(worksite)
})
afterAll(() => atMinute(0))

const today = async () => localDay(new Date(await databaseNow(db())), worksite.site.zone)

const cityOrder = async (over: Record<string, unknown> = {}) =>
  localRulesetSchema.parse({
    key: uuidv7(),
    siteId: worksite.site.id,
    id: `order-${uuidv7().slice(-6)}`,
    label: 'City order on open flames',
    citation: 'Order 12, section 4',
    edition: '2026',
    provenance: 'read',
    effectiveFrom: await today(),
    p_postWatchMin: '90',
    p_watchEveryPermit: 'yes',
    precautions: ['warning-sign'],
    ...over,
  })

const idsInForce = async (viewer: Viewer, siteId: string) =>
  (await getSiteRules(viewer, siteId)).layers.map((layer) => layer.id)

describe('a local ruleset', () => {
  test('holds from the moment an administrator types it in, for permits issued from then on', async () => {
    const before = await buildOpenPermit(db(), { worksite })
    await later()
    const input = await cityOrder()
    const { rulesetId } = await saveLocalRuleset(administrator, input)
    await later()
    const rules = await getSiteRules(administrator, worksite.site.id)
    expect(rules.layers.find((layer) => layer.id === rulesetId)).toMatchObject({
      citation: 'Order 12, section 4',
      edition: '2026',
      provenance: 'read',
      precautions: ['warning-sign'],
    })
    const { foreman } = viewersOf(worksite)
    const asked = async (permitId: string) => {
      const view = await getPermit(foreman, permitId)
      return view.watchByLayer.some((one) => one.minutes === 90)
    }
    const area = worksite.site.otherArea
    const after = await buildPreparedPermit(db(), { worksite, area })
    expect(await asked(after.permit.id)).toBe(true)
    expect(await asked(before.permit.id)).toBe(false)
    expect((await getPermit(foreman, after.permit.id)).watchMin).toBe(90)
  })

  test('waits for its first day', async () => {
    const input = await cityOrder({ effectiveFrom: nextDay(nextDay(await today())) })
    const { rulesetId } = await saveLocalRuleset(administrator, input)
    const rules = await getSiteRules(administrator, worksite.site.id)
    expect(rules.layers.map((layer) => layer.id)).not.toContain(rulesetId)
    expect(rules.waiting.map((layer) => layer.id)).toContain(rulesetId)
  })

  test('gets a next edition, and the same submission twice is one', async () => {
    const first = await cityOrder()
    expect(await saveLocalRuleset(administrator, first)).toMatchObject({ version: 1 })
    expect(await saveLocalRuleset(administrator, first)).toMatchObject({ version: 1 })
    const next = { ...first, key: uuidv7(), effectiveFrom: nextDay(first.effectiveFrom) }
    expect(await saveLocalRuleset(administrator, next)).toMatchObject({ version: 2 })
    const rules = await getSiteRules(administrator, worksite.site.id)
    const editions = [...rules.layers, ...rules.waiting].filter(
      (layer) => layer.id === `local:${first.id}`,
    )
    expect(editions.map((layer) => layer.version)).toEqual([1, 2])
  })

  test('is refused with every problem at once', async () => {
    const wrong = await cityOrder({
      id: 'A',
      citation: '',
      p_capHours: '400',
      precautions: ['prayer'],
    })
    await expect(saveLocalRuleset(administrator, wrong)).rejects.toEqual(
      refusedFor('id_form', 'citation_missing', 'out_of_bounds', 'unknown_precaution'),
    )
    const silent = await cityOrder({ p_postWatchMin: '', p_watchEveryPermit: '', precautions: [] })
    await expect(saveLocalRuleset(administrator, silent)).rejects.toEqual(
      refusedFor('nothing_asked'),
    )
  })

  test('is not another site’s to change', async () => {
    const input = await cityOrder()
    await saveLocalRuleset(administrator, input)
    const other = await administratorOf(elsewhere)
    const theirs = {
      ...input,
      key: uuidv7(),
      siteId: elsewhere.site.id,
      effectiveFrom: nextDay(input.effectiveFrom),
    }
    await expect(saveLocalRuleset(other, theirs)).rejects.toEqual(refusedFor('id_taken'))
    await expect(saveLocalRuleset(other, { ...input, key: uuidv7() })).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    await expect(
      saveLocalRuleset(viewersOf(worksite).foreman, await cityOrder()),
    ).rejects.toMatchObject({ code: 'FORBIDDEN' })
  })

  test('can be neither changed nor removed in the database', async () => {
    await expect(
      testDatabase().runtime.query('UPDATE local_rulesets SET params = params'),
    ).rejects.toThrow(/permission denied/)
    await expect(db().query('DELETE FROM local_rulesets')).rejects.toMatchObject({ code: 'KW002' })
  })
})

describe('the rulesets of a site', () => {
  const naming = (rulesetId: string, siteId = worksite.site.id) =>
    siteRulesetSchema.parse({ key: uuidv7(), siteId, rulesetId })

  test('are taken on once and left again, but never the last', async () => {
    const { site } = worksite
    await takeOnRuleset(administrator, naming('ca-nfc'))
    expect(await idsInForce(administrator, site.id)).toContain('ca-nfc')
    await expect(takeOnRuleset(administrator, naming('ca-nfc'))).rejects.toMatchObject({
      reasons: [{ code: 'RULESET_IN_FORCE' }],
    })
    await leaveRuleset(administrator, naming('ca-nfc'))
    expect(await idsInForce(administrator, site.id)).not.toContain('ca-nfc')

    const other = await administratorOf(elsewhere)
    const { taken } = await getSiteRules(other, elsewhere.site.id)
    for (const id of taken.slice(1)) await leaveRuleset(other, naming(id, elsewhere.site.id))
    await expect(leaveRuleset(other, naming(taken[0] ?? '', elsewhere.site.id))).rejects.toEqual(
      refusedFor('LAST_RULESET'),
    )
  })

  test('do not include one that nobody typed in', async () => {
    await expect(takeOnRuleset(administrator, naming('local:nowhere'))).rejects.toMatchObject({
      reasons: [{ code: 'RULESET_UNKNOWN' }],
    })
    await expect(takeOnRuleset(administrator, naming('us-mars'))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
  })
})

describe('the company’s own layer', () => {
  const typed = async (viewer: Viewer, over: Record<string, string> = {}) => {
    const { company } = await getCompanyLayer(viewer, undefined)
    const boxes = PARAMETER_NAMES.map((name): [string, string] => {
      const value = company.parameters[name]
      if (value === true) return [parameterBox(name), 'yes']
      return [parameterBox(name), typeof value === 'number' ? String(value) : '']
    })
    return companyLayerSchema.parse({
      key: uuidv7(),
      siteId: worksite.site.id,
      citation: 'Company rule 9',
      ...Object.fromEntries(boxes),
      ...over,
    })
  }

  test('may be stricter than the texts', async () => {
    const input = await typed(administrator, { p_postWatchMin: '75', p_breakLimitMin: '20' })
    await saveCompanyLayer(administrator, input)
    const { company } = await getCompanyLayer(administrator, undefined)
    expect(company.parameters).toMatchObject({ postWatchMin: 75, breakLimitMin: 20 })
    expect(company.citation).toBe('Company rule 9')
  })

  test('may not be laxer than a text in force, nor silent on what the texts leave open', async () => {
    // 29 CFR 1926.1202: under 19.5 % oxygen is hazardous, wherever the site is.
    const lax = await typed(administrator, { p_oxygenMinPct: '19' })
    await expect(saveCompanyLayer(administrator, lax)).rejects.toEqual(
      refusedFor('laxer_than_layers'),
    )
    const silent = await typed(administrator, { p_gasTestValidMin: '' })
    await expect(saveCompanyLayer(administrator, silent)).rejects.toEqual(
      refusedFor('company_silent'),
    )
  })

  test('is only tightened by whoever administers some of the sites', async () => {
    const { mayOnlyTighten } = await getCompanyLayer(administrator, undefined)
    expect(mayOnlyTighten).toBe(true)
    // 60 min is what the texts ask for; the company asked for 75 already.
    const input = await typed(administrator, { p_postWatchMin: '60' })
    await expect(saveCompanyLayer(administrator, input)).rejects.toEqual(
      refusedFor('laxer_than_layers'),
    )
    await expect(getCompanyLayer(viewersOf(worksite).foreman, undefined)).rejects.toMatchObject({
      code: 'FORBIDDEN',
    })
  })
})
