import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { listStorage } from '@/lib/data/storage'
import { cylinderAt, event, insert, newSite, newViewer, refusal, setCompany } from './gas-world'

let siteId: string
let yard: Viewer

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  yard = await newViewer(siteId, 'yard_hand')
})

test('counts what stands in an area against the rules of the site, empties as full', async () => {
  const bayId = uuidv7()
  await insert('areas', {
    id: bayId,
    site_id: siteId,
    name: 'Bay',
    area_class: 'permit',
    facts: { json: { indoors: true, sprinklers: false } },
    posts: { json: [] },
  })
  await insert('site_rulesets', { id: uuidv7(), site_id: siteId, ruleset_id: 'us-ifc-2018' })
  for (const size of [...Array(7).fill('oxygen-244'), 'acetylene-225'] as const) {
    const { id } = await cylinderAt(siteId, size, yard)
    await event({ cylinderId: id, siteId, kind: 'moved', area_id: bayId, by: yard })
    await event({ cylinderId: id, siteId, kind: 'read', marked_empty: true, by: yard })
  }
  const [bay] = (await listStorage(yard, siteId)).areas
  const verdict = (ruleId: string) => bay?.findings.find((one) => one.ruleId === ruleId)?.verdict
  expect(bay).toMatchObject({ name: 'Bay', isIndoors: true })
  // IFC Table 5003.1.1(1): 1,500 ft³ of oxidizing gas; seven of 244 ft³ are 1,708.
  expect(verdict('ifc-maq-oxidizing-gas')).toBe('not_ok')
  expect(verdict('ifc-maq-flammable-gas')).toBe('ok')
  expect(verdict('ifc-separation-incompatible')).toBe('not_ok')
  // Nobody put OSHA's texts in force at this site.
  expect(verdict('osha1926-oxygen-separation')).toBeUndefined()
  const stranger = await newViewer(await newSite(), 'yard_hand')
  await expect(listStorage(stranger, siteId)).rejects.toEqual(refusal('NOT_FOUND'))
})
