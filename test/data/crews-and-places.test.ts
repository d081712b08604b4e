import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { readViewer } from '@/lib/data/auth'
import { addCrew, addCrewMember, changeCrew, endCrewMember, getCrew } from '@/lib/data/crews'
import { addSite, changeSite, getPlace, saveArea } from '@/lib/data/places'
import { addSiteSchema, changeSiteSchema, saveAreaSchema } from '@/lib/schemas/place'
import { insert, newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let otherSiteId: string
let administrator: Viewer
let hand: Viewer

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  otherSiteId = await newSite()
  administrator = await newViewer(siteId, 'administrator')
  hand = await newViewer(siteId, 'operator')
  for (const ruleset_id of ['us-osha-1926', 'us-nfpa51b-2019'])
    await insert('site_rulesets', { id: uuidv7(), site_id: siteId, ruleset_id })
})

const newCrew = async () =>
  (await addCrew(administrator, { key: uuidv7(), siteId, name: `Crew ${uuidv7()}` })).id
const join = (crewId: string, personId = hand.personId) =>
  addCrewMember(administrator, { key: uuidv7(), crewId, personId })

describe('a crew', () => {
  test('is made, joined and left, each in the record', async () => {
    const crewId = await newCrew()
    const { id: memberId } = await join(crewId)
    const crew = await getCrew(administrator, crewId)
    expect(crew.members.map((member) => member.id)).toEqual([memberId])
    expect(crew.others.map((person) => person.id)).not.toContain(hand.personId)
    await endCrewMember(administrator, { key: uuidv7(), memberId })
    const left = await getCrew(administrator, crewId)
    expect(left.members).toEqual([])
    expect(left.others.map((person) => person.id)).toContain(hand.personId)
    const acts = await rowsOf<{ act: string }>(
      'SELECT act FROM audit_entries WHERE subject_id = $1 ORDER BY at',
      [crewId],
    )
    expect(acts.map(({ act }) => act)).toEqual(['crew:add', 'crew:join', 'crew:leave'])
  })

  test('has nobody twice, and lets nobody leave twice', async () => {
    const crewId = await newCrew()
    const { id: memberId } = await join(crewId)
    await expect(join(crewId)).rejects.toEqual(refusal('ALREADY_MEMBER'))
    await endCrewMember(administrator, { key: uuidv7(), memberId })
    await expect(endCrewMember(administrator, { key: uuidv7(), memberId })).rejects.toEqual(
      refusal('CONFLICT'),
    )
    await expect(join(crewId)).resolves.toMatchObject({ id: expect.any(String) })
  })

  test('has a name of its own', async () => {
    const name = `Crew ${uuidv7()}`
    await addCrew(administrator, { key: uuidv7(), siteId, name })
    await expect(addCrew(administrator, { key: uuidv7(), siteId, name })).rejects.toEqual(
      refusal('NAME_TAKEN'),
    )
  })

  test('takes in nobody of a site that is not the administrator’s, and goes to no such site', async () => {
    const crewId = await newCrew()
    const stranger = await newViewer(otherSiteId, 'operator')
    await expect(join(crewId, stranger.personId)).rejects.toEqual(refusal('NOT_FOUND'))
    const away = { key: uuidv7(), crewId, siteId: otherSiteId, name: `Crew ${uuidv7()}` }
    await expect(changeCrew(administrator, away)).rejects.toEqual(refusal('NOT_FOUND'))
    const elsewhere = await newViewer(otherSiteId, 'administrator')
    await expect(getCrew(elsewhere, crewId)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(getCrew(await newViewer(siteId, 'foreman'), crewId)).rejects.toEqual(
      refusal('FORBIDDEN'),
    )
  })
})

const FIELDS = {
  shortName: 'Pier 9',
  kind: 'harbor',
  zone: 'America/Los_Angeles',
  address: 'Pier 9',
  emergencyWords: '911, gate 3.',
  shiftEnds: '15:30',
  deliveryDays: ['2', '4'],
}
const site = (over: object = {}) =>
  addSiteSchema.parse({
    key: uuidv7(),
    ...FIELDS,
    name: `Pier ${uuidv7()}`,
    likeSiteId: siteId,
    ...over,
  })

describe('a site', () => {
  test('begins under the rulesets of another, with who made it as its administrator, still signed in', async () => {
    const before = await rowsOf<{ session_epoch: number }>(
      'SELECT session_epoch FROM people WHERE id = $1',
      [administrator.personId],
    )
    const { id } = await addSite(administrator, site())
    const viewer = await readViewer(administrator.personId, before[0]?.session_epoch ?? -1)
    expect(viewer?.grants).toContainEqual({ siteId: id, role: 'administrator' })
    const rulesets = await rowsOf<{ ruleset_id: string }>(
      'SELECT ruleset_id FROM site_rulesets WHERE site_id = $1 ORDER BY ruleset_id',
      [id],
    )
    expect(rulesets.map((row) => row.ruleset_id)).toEqual(['us-nfpa51b-2019', 'us-osha-1926'])
    if (!viewer) throw new Error('the administrator was signed out')
    expect((await getPlace(viewer, id)).site).toMatchObject({
      zone: 'America/Los_Angeles',
      shiftEnds: '15:30',
      deliveryDays: [2, 4],
    })
  })

  test('changes, and a form that is behind is a conflict', async () => {
    const change = (over: object = {}) =>
      changeSiteSchema.parse({
        key: uuidv7(),
        ...FIELDS,
        name: `Mill ${uuidv7()}`,
        siteId,
        version: '0',
        ...over,
      })
    await changeSite(administrator, change({ paiMayWatch: 'yes' }))
    await expect(changeSite(administrator, change())).rejects.toEqual(refusal('CONFLICT'))
    expect((await getPlace(administrator, siteId)).site).toMatchObject({
      ...{ version: 1, paiMayWatch: true, loneOperator: false },
    })
  })

  test.each([
    [{ zone: 'Mars/Olympus' }, 'NO_SUCH_ZONE'],
    [{ zone: 'UTC+5' }, 'NO_SUCH_ZONE'],
    [{ shiftEnds: '25:00' }, 'ENTER_A_TIME'],
    [{ emergencyWords: ' ' }, 'SAY_IT'],
  ])('is looked at: %o says %s', (over, code) => {
    const typed = { key: uuidv7(), ...FIELDS, name: 'Pier', likeSiteId: siteId, ...over }
    expect(addSiteSchema.safeParse(typed).error?.issues.map((issue) => issue.message)).toEqual([
      code,
    ])
  })

  test('is made like one of the administrator’s own only', async () => {
    await expect(addSite(administrator, site({ likeSiteId: otherSiteId }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    const foreman = await newViewer(siteId, 'foreman')
    await expect(addSite(foreman, site())).rejects.toEqual(refusal('FORBIDDEN'))
  })
})

const area = (over: object = {}) =>
  saveAreaSchema.parse({
    key: uuidv7(),
    siteId,
    areaId: '',
    version: '0',
    name: `Deck ${uuidv7()}`,
    areaClass: 'permit',
    sprinklers: 'yes',
    floor: 'combustible',
    wall: 'metal',
    levelFt: '12',
    shipyardSpace: 'none',
    posts: 'At the work\n\n Below \nBelow',
    seenWithId: '',
    ...over,
  })

describe('an area', () => {
  test('keeps its standing facts and its posts, each once', async () => {
    const { id } = await saveArea(administrator, area())
    const kept = (await getPlace(administrator, siteId)).areas.find((one) => one.id === id)
    expect(kept).toMatchObject({ areaClass: 'permit', viewId: null })
    expect(kept?.facts).toEqual({
      indoors: false,
      enclosed: false,
      confinedSpace: false,
      sprinklers: true,
      detection: false,
      floor: 'combustible',
      wall: 'metal',
      levelFt: 12,
    })
    expect(kept?.posts).toEqual([
      { id: 'At the work', name: 'At the work' },
      { id: 'Below', name: 'Below' },
    ])
  })

  test('gives each post a code of its own that stays as long as the post keeps its name, and takes them away again', async () => {
    const fields = area({ codes: 'yes' })
    const { id } = await saveArea(administrator, fields)
    const postsNow = async () =>
      (await getPlace(administrator, siteId)).areas.find((one) => one.id === id)?.posts ?? []
    const [work, below] = await postsNow()
    const codes = [work?.code, below?.code]
    // No letter that is taken for another: 12 of 31 are some 59 bits.
    for (const code of codes) expect(code).toMatch(/^([A-HJKMNP-Z2-9]{4}-){2}[A-HJKMNP-Z2-9]{4}$/)
    expect(new Set(codes).size).toBe(2)
    const changed = { areaId: id, name: fields.name, posts: 'Far side\nBelow' }
    await saveArea(administrator, area({ ...changed, codes: 'yes', version: '0' }))
    const [far, belowThen] = await postsNow()
    expect(belowThen).toEqual(below)
    expect(far?.code).toMatch(/^[0-9A-Z-]{14}$/)
    expect(codes).not.toContain(far?.code)
    await saveArea(administrator, area({ ...changed, version: '1' }))
    expect(await postsNow()).toEqual([
      { id: 'Far side', name: 'Far side' },
      { id: 'Below', name: 'Below' },
    ])
  })

  test('shares a view with another that the same eyes see, and has its own again when they do not', async () => {
    const first = await saveArea(administrator, area())
    const second = await saveArea(administrator, area({ seenWithId: first.id }))
    const views = async () =>
      (await getPlace(administrator, siteId)).areas
        .filter((one) => one.id === first.id || one.id === second.id)
        .map((one) => one.viewId)
    const [one, other] = await views()
    expect(one).toBe(other)
    expect(one).not.toBeNull()
    await saveArea(administrator, area({ areaId: second.id }))
    expect((await views()).filter((view) => view === null)).toHaveLength(1)
  })

  test('of a form that is behind is a conflict; of another site it is not there', async () => {
    const { id } = await saveArea(administrator, area())
    await saveArea(administrator, area({ areaId: id }))
    await expect(saveArea(administrator, area({ areaId: id }))).rejects.toEqual(refusal('CONFLICT'))
    const elsewhere = await newViewer(otherSiteId, 'administrator')
    await expect(saveArea(elsewhere, area({ siteId: otherSiteId, areaId: id }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    await expect(
      saveArea(elsewhere, area({ siteId: otherSiteId, seenWithId: id })),
    ).rejects.toEqual(refusal('NOT_FOUND'))
  })

  test('has at least one post', () => {
    expect(() => area({ posts: ' \n ' })).toThrow('POST_MISSING')
  })
})
