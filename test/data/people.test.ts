import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { readViewer } from '@/lib/data/auth'
import { listPeople } from '@/lib/data/people'
import { addQualification, grantRole, revokeGrant, setDisabled } from '@/lib/data/people-acts'
import { qualificationSchema } from '@/lib/schemas/people'
import { insert, newOutfit, newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let otherSiteId: string
let administrator: Viewer
let elsewhere: Viewer
let worker: Viewer

const epochOf = async ({ personId }: Viewer) =>
  (
    await rowsOf<{ session_epoch: number }>('SELECT session_epoch FROM people WHERE id = $1', [
      personId,
    ])
  )[0]?.session_epoch ?? -1

const grantOf = async ({ personId }: Viewer) =>
  (
    await rowsOf<{ id: string }>(
      'SELECT id FROM grants WHERE person_id = $1 AND revoked_at IS NULL ORDER BY granted_at',
      [personId],
    )
  )[0]?.id ?? ''

const entriesOn = (subjectId: string) =>
  rowsOf<{ chain: string; act: string; actor_id: string }>(
    'SELECT chain, act, actor_id FROM audit_entries WHERE subject_id = $1 ORDER BY at DESC',
    [subjectId],
  )

const day = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10)

const grant = (over: Partial<Parameters<typeof grantRole>[1]> = {}) => ({
  key: uuidv7(),
  personId: worker.personId,
  siteId,
  role: 'foreman' as const,
  ...over,
})
const revoke = (grantId: string) => ({ key: uuidv7(), grantId })
const shutOut = (disabled: 'yes' | 'no' = 'yes', personId = worker.personId) => ({
  key: uuidv7(),
  personId,
  disabled,
})
const qualified = (over: Record<string, string> = {}) =>
  qualificationSchema.parse({
    key: uuidv7(),
    personId: worker.personId,
    kind: 'torch_operator',
    validFrom: day(-1),
    validUntil: day(365),
    issuer: 'Union hall 12',
    evidence: 'Card 118',
    ...over,
  })

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  otherSiteId = await newSite()
  administrator = await newViewer(siteId, 'administrator')
  elsewhere = await newViewer(otherSiteId, 'administrator')
})
beforeEach(async () => {
  worker = await newViewer(siteId, 'operator')
})

describe('the list of people and outfits', () => {
  test('shows who holds a role at the viewer’s sites, and nobody and nothing of another site', async () => {
    const stranger = await newViewer(otherSiteId, 'operator')
    const [mine, theirs] = [await newOutfit(siteId), await newOutfit(otherSiteId)]
    const page = await listPeople(administrator)
    const ids = page.people.map((person) => person.id)
    expect(ids).toContain(worker.personId)
    expect(ids).not.toContain(stranger.personId)
    const outfits = page.outfits.map((outfit) => outfit.id)
    expect(outfits).toContain(mine)
    expect(outfits).not.toContain(theirs)
    expect(page.sites.map((site) => site.id)).toEqual([siteId])
  })

  test('says of each person the roles at the viewer’s sites only', async () => {
    await insert('grants', {
      id: uuidv7(),
      person_id: worker.personId,
      site_id: otherSiteId,
      role: 'pai',
    })
    const row = (await listPeople(administrator)).people.find((one) => one.id === worker.personId)
    expect(row?.grants.map(({ role, siteId: at }) => [role, at])).toEqual([['operator', siteId]])
  })

  test('says which qualification holds, ends soon, has ended and has not begun', async () => {
    const spans = [
      ['torch_operator', day(-200), day(200)],
      ['fire_watch', day(-200), day(10)],
      ['pai', day(-200), day(-3)],
    ] as const
    for (const [kind, from, until] of spans)
      await insert('qualifications', {
        id: uuidv7(),
        person_id: worker.personId,
        kind,
        valid_from: from,
        valid_until: until,
        evidence: 'Card',
      })
    const standings = async () =>
      Object.fromEntries(
        (await listPeople(administrator)).people
          .find((one) => one.id === worker.personId)
          ?.holdings.map((one) => [one.kind, one.standing]) ?? [],
      )
    expect(await standings()).toEqual({ torch_operator: 'holds', fire_watch: 'soon', pai: 'ended' })
    await addQualification(
      administrator,
      qualified({ kind: 'pai', validFrom: day(20), validUntil: day(400) }),
    )
    expect(await standings()).toMatchObject({ pai: 'not_begun' })
    await addQualification(
      administrator,
      qualified({ kind: 'fire_watch', validFrom: day(11), validUntil: day(300) }),
    )
    expect(await standings()).toMatchObject({ fire_watch: 'holds' })
  })

  test('says that a role asks for a qualification that is not on record', async () => {
    const row = (await listPeople(administrator)).people.find((one) => one.id === worker.personId)
    expect(row?.holdings).toEqual([{ kind: 'torch_operator', standing: 'missing', day: null }])
  })

  test('counts what has ended and what ends soon, of people who may still sign in', async () => {
    const before = (await listPeople(administrator)).troubles
    for (const [kind, until] of [
      ['pai', day(-3)],
      ['fire_watch', day(10)],
    ] as const)
      await insert('qualifications', {
        id: uuidv7(),
        person_id: worker.personId,
        kind,
        valid_from: day(-200),
        valid_until: until,
        evidence: 'Card',
      })
    const { ended, soon } = before
    expect((await listPeople(administrator)).troubles).toEqual({ ended: ended + 1, soon: soon + 1 })
    await setDisabled(administrator, shutOut())
    expect((await listPeople(administrator)).troubles).toEqual(before)
  })

  test('goes on where its first fifty end, without losing or repeating anybody', async () => {
    const crowded = await newSite()
    const keeper = await newViewer(crowded, 'administrator')
    for (let i = 0; i < 52; i += 1) await newViewer(crowded, 'yard_hand')
    const first = await listPeople(keeper)
    const second = await listPeople(keeper, first.next)
    const ids = [...first.people, ...second.people].map((person) => person.id)
    expect([first.people.length, second.people.length, second.next]).toEqual([50, 3, null])
    expect(new Set(ids).size).toBe(53)
  })

  test('offers changes to administrators only, and is shut to who may not read people', async () => {
    expect((await listPeople(administrator)).mayWrite).toBe(true)
    expect((await listPeople(await newViewer(siteId, 'auditor'))).mayWrite).toBe(false)
    await expect(listPeople(worker)).rejects.toEqual(refusal('FORBIDDEN'))
  })
})

describe('crews and outfits', () => {
  test('a crew shows its members of the viewer’s sites, and where it works only if that is one', async () => {
    const crewId = uuidv7()
    const stranger = await newViewer(otherSiteId, 'operator')
    await insert('crews', { id: crewId, site_id: otherSiteId, name: `Crew ${crewId}` })
    for (const { personId } of [worker, stranger])
      await insert('crew_members', {
        id: uuidv7(),
        crew_id: crewId,
        person_id: personId,
        from_date: day(-9),
      })
    const page = await listPeople(administrator)
    const crew = page.crews.find((one) => one.id === crewId)
    expect(crew?.siteName).toBeNull()
    expect(crew?.members.map((member) => member.id)).toEqual([worker.personId])
    const row = page.people.find((one) => one.id === worker.personId)
    expect(row?.crewNames).toEqual([`Crew ${crewId}`])
  })

  test('an outfit shows its parts as they are joined, and why it is out of service', async () => {
    const outfitId = await newOutfit(siteId)
    await insert(
      'outfit_parts',
      { id: uuidv7(), outfit_id: outfitId, kind: 'arrestor_fuel', name: 'Arrestor' },
      { id: uuidv7(), outfit_id: outfitId, kind: 'torch', name: 'Torch' },
    )
    await insert('outfit_events', {
      id: uuidv7(),
      outfit_id: outfitId,
      site_id: siteId,
      kind: 'out_of_service',
      person_id: administrator.personId,
      role_then: 'foreman',
      reason: 'Hose cut',
    })
    const outfit = (await listPeople(administrator)).outfits.find((one) => one.id === outfitId)
    expect(outfit?.parts.map((part) => part.name)).toEqual(['Torch', 'Arrestor'])
    expect(outfit).toMatchObject({ isInService: false, reason: 'Hose cut' })
  })
})

describe('a role', () => {
  test('is granted, ends every session of that person, and stands in the site’s record', async () => {
    const before = await epochOf(worker)
    await grantRole(administrator, grant())
    expect(await readViewer(worker.personId, before)).toBeNull()
    const after = await readViewer(worker.personId, before + 1)
    expect(after?.roles).toEqual(['operator', 'foreman'])
    expect(await entriesOn(worker.personId)).toContainEqual({
      chain: siteId,
      act: 'people:grant',
      actor_id: administrator.personId,
    })
  })

  test('that is held already is refused', async () => {
    await expect(grantRole(administrator, grant({ role: 'operator' }))).rejects.toEqual(
      refusal('ROLE_HELD'),
    )
  })

  test('sent twice with one key is granted once', async () => {
    const input = grant()
    expect(await grantRole(administrator, input)).toEqual(await grantRole(administrator, input))
    const held = await rowsOf('SELECT 1 FROM grants WHERE person_id = $1 AND role = $2', [
      worker.personId,
      'foreman',
    ])
    expect(held).toHaveLength(1)
  })

  test('taken back is gone at once with its sessions, and can be granted anew', async () => {
    const before = await epochOf(worker)
    await revokeGrant(administrator, revoke(await grantOf(worker)))
    expect(await readViewer(worker.personId, before)).toBeNull()
    expect((await readViewer(worker.personId, before + 1))?.grants).toEqual([])
    await grantRole(administrator, grant({ role: 'operator' }))
    expect((await readViewer(worker.personId, before + 2))?.roles).toEqual(['operator'])
  })

  test('taken back twice is a conflict', async () => {
    const grantId = await grantOf(worker)
    await revokeGrant(administrator, revoke(grantId))
    await expect(revokeGrant(administrator, revoke(grantId))).rejects.toEqual(refusal('CONFLICT'))
  })

  test('of administrator is not taken back by its holder', async () => {
    await expect(revokeGrant(administrator, revoke(await grantOf(administrator)))).rejects.toEqual(
      refusal('OWN_ROLE'),
    )
  })
})

describe('a person', () => {
  test('shut out can’t use a session, and is let in again by a new sign-in', async () => {
    const before = await epochOf(worker)
    await setDisabled(administrator, shutOut())
    expect(await readViewer(worker.personId, before)).toBeNull()
    expect(await readViewer(worker.personId, before + 1)).toBeNull()
    await setDisabled(administrator, shutOut('no'))
    expect(await readViewer(worker.personId, before)).toBeNull()
    expect((await readViewer(worker.personId, before + 2))?.roles).toEqual(['operator'])
    expect((await entriesOn(worker.personId)).map((one) => one.act)).toContain('people:disable')
  })

  test('does not shut out themselves', async () => {
    await expect(
      setDisabled(administrator, shutOut('yes', administrator.personId)),
    ).rejects.toEqual(refusal('OWN_ROLE'))
  })

  test('whose every role here was taken back is no longer this administrator’s to shut out or qualify', async () => {
    await revokeGrant(administrator, revoke(await grantOf(worker)))
    await expect(setDisabled(administrator, shutOut())).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(addQualification(administrator, qualified())).rejects.toEqual(refusal('NOT_FOUND'))
  })

  test('is given a qualification that the record keeps', async () => {
    const { id } = await addQualification(administrator, qualified())
    const [row] = await rowsOf<{ recorded_by: string; evidence: string }>(
      'SELECT recorded_by, evidence FROM qualifications WHERE id = $1',
      [id],
    )
    expect(row).toEqual({ recorded_by: administrator.personId, evidence: 'Card 118' })
    expect((await entriesOn(worker.personId)).map((one) => one.act)).toContain('people:qualify')
  })

  test('is not given one that ends before it begins', () => {
    const typed = { ...qualified(), validFrom: day(5), validUntil: day(4) }
    expect(qualificationSchema.safeParse(typed).error?.issues[0]?.message).toBe('ENDS_BEFORE_START')
  })
})

describe('nobody else changes a person', () => {
  const acts = [
    ['grants a role', (by: Viewer) => grantRole(by, grant())],
    ['takes a role back', async (by: Viewer) => revokeGrant(by, revoke(await grantOf(worker)))],
    ['shuts a person out', (by: Viewer) => setDisabled(by, shutOut())],
    ['adds a qualification', (by: Viewer) => addQualification(by, qualified())],
  ] as const

  test.each(acts)('an auditor never %s', async (_, act) => {
    await expect(act(await newViewer(siteId, 'auditor'))).rejects.toEqual(refusal('FORBIDDEN'))
  })

  test.each(acts)('a foreman never %s', async (_, act) => {
    await expect(act(await newViewer(siteId, 'foreman'))).rejects.toEqual(refusal('FORBIDDEN'))
  })

  test.each(acts)('another site’s administrator never %s', async (_, act) => {
    await expect(act(elsewhere)).rejects.toEqual(refusal('NOT_FOUND'))
  })

  test('an administrator grants nothing at a site of others', async () => {
    await expect(grantRole(administrator, grant({ siteId: otherSiteId }))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })
})
