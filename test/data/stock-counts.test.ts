import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { endCount, getCount, recordSighting, startCount } from '@/lib/data/stock-counts'
import {
  cylinderAt,
  event,
  insert,
  newSite,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

let siteId: string
let yard: Viewer
let watch: Viewer
let stranger: Viewer
let otherSite: string
let bayId: string

const see = (countId: string, serial: string, areaId: string | null = null) =>
  recordSighting(yard, { key: uuidv7(), countId, serial, areaId })
const end = (countId: string, confirmed: string[], lookedTwice = true) =>
  endCount(yard, { key: uuidv7(), countId, confirmed, lookedTwice })
const stateOf = (id: string) =>
  rowsOf('SELECT status, site_id, area_id FROM cylinders WHERE id = $1', [id]).then(([row]) => row)

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  otherSite = await newSite()
  yard = await newViewer(siteId, 'yard_hand')
  const role = { id: uuidv7(), person_id: yard.personId, site_id: otherSite, role: 'yard_hand' }
  await insert('grants', role)
  yard = { ...yard, grants: [...yard.grants, { siteId: otherSite, role: 'yard_hand' }] }
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'yard_hand')
  bayId = uuidv7()
  await insert('areas', {
    id: bayId,
    site_id: siteId,
    name: 'Bay',
    area_class: 'permit',
    facts: { json: {} },
    posts: { json: [] },
  })
})

describe('walking a site with the phone', () => {
  test('finds, misses and puts right, each an event after a second look alone', async () => {
    const [seen, missing, doubtful, moved] = [
      await cylinderAt(siteId, 'oxygen-244', yard),
      await cylinderAt(siteId, 'oxygen-244', yard),
      await cylinderAt(siteId, 'oxygen-244', yard),
      await cylinderAt(otherSite, 'acetylene-225', yard),
    ]
    const lost = await cylinderAt(siteId, 'oxygen-244', yard)
    await event({ cylinderId: lost.id, siteId, kind: 'lost', reason: 'Gone', by: yard })
    const { countId } = await startCount(yard, { key: uuidv7(), siteId })
    await see(countId, seen.serial, bayId)
    await see(countId, seen.serial)
    await see(countId, moved.serial)
    await see(countId, lost.serial)
    await see(countId, 'OX-NOBODY')
    const view = await getCount(yard, countId)
    const lineOf = (serial: string) => view.lines.find((row) => row.serial === serial)?.line
    expect([seen, missing, doubtful, moved, lost].map((one) => lineOf(one.serial))).toEqual([
      'other_area',
      'missing',
      'missing',
      'other_site',
      'away',
    ])
    expect(lineOf('OX-NOBODY')).toBe('unknown')
    await expect(end(countId, [], false)).rejects.toEqual(refusal('LOOK_TWICE'))
    const ended = await end(countId, [seen.serial, missing.serial, moved.serial, lost.serial])
    expect(ended).toMatchObject({ found: 0, misplaced: 3, lost: 1, leftOpen: 2 })
    expect(await stateOf(seen.id)).toMatchObject({ area_id: bayId })
    expect(await stateOf(missing.id)).toMatchObject({ status: 'lost', site_id: null })
    expect(await stateOf(doubtful.id)).toMatchObject({ status: 'full', site_id: siteId })
    expect(await stateOf(moved.id)).toMatchObject({ status: 'full', site_id: siteId })
    expect(await stateOf(lost.id)).toMatchObject({ status: 'full', site_id: siteId })
    await expect(see(countId, seen.serial)).rejects.toEqual(refusal('COUNT_OVER'))
    await expect(end(countId, [])).rejects.toEqual(refusal('COUNT_OVER'))
  })

  test('is refused to a fire watch and to another site', async () => {
    await expect(startCount(watch, { key: uuidv7(), siteId })).rejects.toEqual(refusal('FORBIDDEN'))
    const { countId } = await startCount(yard, { key: uuidv7(), siteId })
    await expect(getCount(stranger, countId)).rejects.toEqual(refusal('NOT_FOUND'))
    const input = { key: uuidv7(), countId, confirmed: [], lookedTwice: true }
    await expect(endCount(stranger, input)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(endCount(watch, input)).rejects.toEqual(refusal('FORBIDDEN'))
  })
})
