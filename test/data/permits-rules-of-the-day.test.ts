import { v7 as uuidv7 } from 'uuid'
import { afterAll, describe, expect, test } from 'vitest'
import { getPermit } from '@/lib/data/permits/get'
import { getPermitRules } from '@/lib/data/permits/rules-view'
import { COMPANY_LAYER } from '@/lib/rules/layers'
import { buildOpenPermit, buildPreparedPermit, buildWorksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { viewersOf } from './permit-world'
import { atMinute } from './watch-world'

const db = () => testDatabase().owner
afterAll(() => atMinute(0))

const citations = async (built: Awaited<ReturnType<typeof buildOpenPermit>>) =>
  (await getPermit(viewersOf(built).foreman, built.permit.id)).watchByLayer.map(
    (layer) => layer.citation,
  )

const watchOfCompany = async (built: Awaited<ReturnType<typeof buildOpenPermit>>) =>
  (await getPermit(viewersOf(built).foreman, built.permit.id)).watchByLayer.find(
    (layer) => layer.citation === COMPANY_LAYER.citation,
  )?.minutes

describe('the rules behind a permit', () => {
  test('name for each precaution the layers, citations, conditions and what would be rid of it', async () => {
    const built = await buildOpenPermit(db())
    const view = await getPermitRules(viewersOf(built).foreman, built.permit.id)
    expect(view.issuedAt).not.toBeNull()
    expect(view.layers.map((layer) => layer.id)).toEqual(
      expect.arrayContaining([...built.site.rulesets, 'company', 'always']),
    )
    const watch = view.precautions.find((one) => one.id === 'fire-watch')
    expect(watch?.conditions.map((one) => one.field)).toContain('process')
    expect(watch?.askedBy.map((one) => one.layerId)).toContain('company')
    const inspect = view.precautions.find((one) => one.id === 'inspect-area')
    expect(inspect?.askedBy.flatMap((one) => one.sources)).toContainEqual({
      citation: '29 CFR 1910.252(a)(2)(iv)',
      edition: '29 CFR 1910 current text',
      provenance: 'read',
    })
    expect(inspect?.goesAwayBy).toEqual([['designated_area']])
  })

  test('are not there for somebody of another site', async () => {
    const built = await buildOpenPermit(db())
    const elsewhere = await buildWorksite(db())
    await expect(
      getPermitRules(viewersOf(elsewhere).foreman, built.permit.id),
    ).rejects.toMatchObject({ code: 'NOT_FOUND' })
  })
})

describe('the rules that a permit is judged by', () => {
  test('are those of the day it was issued, whatever the site and the company take on or leave later', async () => {
    const site = await buildSite(db(), { rulesets: ['us-osha-1910', 'us-nfpa51b-2019'] })
    const worksite = await buildWorksite(db(), site)
    const issued = await buildOpenPermit(db(), { worksite })
    const before = await citations(issued)
    await atMinute(1)
    await db().query(
      `UPDATE site_rulesets SET to_at = kerf_now() WHERE site_id = $1 AND ruleset_id = 'us-osha-1910'`,
      [site.id],
    )
    await db().query('INSERT INTO site_rulesets (id, site_id, ruleset_id) VALUES ($1, $2, $3)', [
      uuidv7(),
      site.id,
      'ca-nfc',
    ])
    await db().query('INSERT INTO company_layers (id, params, citation) VALUES ($1, $2, $3)', [
      uuidv7(),
      JSON.stringify({ ...COMPANY_LAYER.parameters, postWatchMin: 90 }),
      COMPANY_LAYER.citation,
    ])
    await atMinute(2)

    expect(await citations(issued)).toEqual(before)
    expect(before).toContain('29 CFR 1910.252(a)')
    expect(await watchOfCompany(issued)).toBe(60)

    const later = await buildPreparedPermit(db(), { worksite, area: site.otherArea })
    expect(await citations(later)).toContain('NFC Division B 5.2.3.3')
    expect(await citations(later)).not.toContain('29 CFR 1910.252(a)')
    expect(await watchOfCompany(later)).toBe(90)
  })
})
