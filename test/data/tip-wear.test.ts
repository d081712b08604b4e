import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, beforeEach, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getTipWear, recordTipCheck } from '@/lib/data/gear/tip-wear'
import { getTipsWanted } from '@/lib/data/gear/tips'
import { tipCheckSchema } from '@/lib/schemas/outfit'
import { buildOpenPermit, buildWorksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { insert, newOutfit, newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

const ORIFICE_M = 0.06 * 0.0254
const HOUR_MS = 3_600_000

let siteId: string
let foreman: Viewer
let outfitId: string

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  foreman = await newViewer(siteId, 'foreman')
})
beforeEach(async () => {
  outfitId = await newOutfit(siteId)
})
afterEach(() => testDatabase().setClock(0))

async function newTip(on = outfitId): Promise<string> {
  const id = uuidv7()
  const tip = { outfit_id: on, kind: 'tip', name: 'Cutting tip', orifice_m: ORIFICE_M }
  await insert('outfit_parts', { id, ...tip })
  return id
}
const look = (partId: string, over: Record<string, string> = {}, by = foreman) =>
  recordTipCheck(
    by,
    tipCheckSchema.parse({ key: uuidv7(), partId, finding: 'good', orificeIn: '', ...over }),
  )

test('a tip that was looked at stays on; worn, damaged or opened by more than a tenth it comes off', async () => {
  const kept = await newTip()
  expect(await look(kept)).toMatchObject({ isOff: false })
  expect(await look(kept, { finding: 'cleaned', orificeIn: '0.066' })).toMatchObject({
    isOff: false,
  })
  expect(await getTipWear(foreman, outfitId)).toMatchObject([
    { id: kept, lastFinding: 'cleaned', measuredM: expect.closeTo(0.066 * 0.0254, 9) },
  ])
  for (const over of [{ finding: 'worn' }, { finding: 'damaged' }, { orificeIn: '0.067' }]) {
    const tip = await newTip()
    expect(await look(tip, over)).toMatchObject({ isOff: true })
    expect((await getTipWear(foreman, outfitId)).map((one) => one.id)).toEqual([kept])
    await expect(look(tip)).rejects.toEqual(refusal('TIP_GONE'))
  }
  expect((await getTipsWanted(foreman, siteId)).sizes).toEqual([])
})

test('hours are those that its outfit cut since it went on, and since it was looked at', async () => {
  const worksite = await buildWorksite(testDatabase().owner)
  const { site, team, job, outfit } = worksite
  const partId = await newTip(outfit.id)
  const { permit } = await buildOpenPermit(testDatabase().owner, { worksite })
  const [clock] = await rowsOf<{ now: Date }>('SELECT kerf_now() AS now')
  const startMs = clock?.now.getTime() ?? 0
  await testDatabase().setClock(3 * HOUR_MS)
  await insert('hot_work_logs', {
    id: uuidv7(),
    site_id: site.id,
    job_id: job.id,
    permit_id: permit.id,
    area_id: permit.areaId,
    operator_id: team.operator.id,
    outfit_id: outfit.id,
    from_at: new Date(startMs + 0.5 * HOUR_MS),
    to_at: new Date(startMs + 2 * HOUR_MS),
    person_id: team.operator.id,
    role_then: 'operator',
  })
  const theirs: Viewer = {
    ...foreman,
    personId: team.foreman.id,
    grants: [{ siteId: site.id, role: 'foreman' }],
  }
  const hours = async () => (await getTipWear(theirs, outfit.id)).find((one) => one.id === partId)
  expect(await hours()).toMatchObject({ standing: 'good', lastAt: null })
  expect((await hours())?.hoursOn).toBeCloseTo(1.5, 6)
  await look(partId, {}, theirs)
  expect(await hours()).toMatchObject({ hoursSinceLook: 0 })
})

test('is recorded by who inspects outfits there, added and never altered', async () => {
  const partId = await newTip()
  const watch = await newViewer(siteId, 'fire_watch')
  await expect(look(partId, {}, watch)).rejects.toEqual(refusal('FORBIDDEN'))
  const stranger = await newViewer(await newSite(), 'foreman')
  await expect(look(partId, {}, stranger)).rejects.toEqual(refusal('NOT_FOUND'))
  await expect(getTipWear(stranger, outfitId)).rejects.toEqual(refusal('NOT_FOUND'))
  await look(partId)
  await expect(
    testDatabase().runtime.query("UPDATE tip_checks SET finding = 'worn'"),
  ).rejects.toThrow()
})
