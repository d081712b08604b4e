import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import { clearPermit } from '@/lib/data/permits/clearance'
import { getPermit } from '@/lib/data/permits/get'
import { issuePermit } from '@/lib/data/permits/issue'
import { preparePermit } from '@/lib/data/permits/prepare'
import { signPermit } from '@/lib/data/permits/sign'
import { getSignView } from '@/lib/data/permits/sign-view'
import { getToday } from '@/lib/data/today/today'
import { getPostedSheet } from '@/lib/data/watch/sheet'
import { permitStepSchema, signPermitSchema } from '@/lib/schemas/permit'
import { preparePermitSchema } from '@/lib/schemas/permit-prepare'
import { buildOpenPermit, buildWorksite, type Worksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import {
  formOn,
  issuing,
  PIN,
  permitRow,
  preparation,
  refusedFor,
  signBoth,
  siteTime,
  testAir,
  viewersOf,
  walk,
} from './permit-world'

const db = () => testDatabase().owner
let worksite: Worksite
beforeAll(async () => {
  worksite = await buildWorksite(db())
})

async function clearedUnder(over: Record<string, string>): Promise<string> {
  const { foreman } = viewersOf(worksite)
  const { id } = await preparePermit(foreman, await preparation(worksite, over))
  await walk(foreman, worksite, id)
  await clearPermit(foreman, permitStepSchema.parse(await formOn(id)))
  await signBoth(worksite, id)
  await testAir(foreman, worksite, id)
  if (over.entryPermit) await enter(worksite, id)
  return id
}

/** The foreman is an entry supervisor as well, and signs as one. */
async function enter({ team }: Worksite, permitId: string) {
  await db().query(
    `INSERT INTO qualifications (id, person_id, kind, valid_from, valid_until, evidence)
     VALUES ($1, $2, 'entry_supervisor', '2020-01-01', '2099-12-31', 'card')`,
    [uuidv7(), team.foreman.id],
  )
  const input = { ...(await formOn(permitId)), act: 'enter', personId: team.foreman.id, pin: PIN }
  return signPermit(viewersOf(worksite).foreman, signPermitSchema.parse(input))
}

test('a permit ends no later than the host’s own and the entry permit, by the app and by the database', async () => {
  const { foreman } = viewersOf(worksite)
  const [host, entry, late] = [
    await siteTime(worksite.site.zone, 120),
    await siteTime(worksite.site.zone, 90),
    await siteTime(worksite.site.zone, 180),
  ]
  const permitId = await clearedUnder({
    hostPermit: 'H-77',
    hostPermitUntil: host.clock,
    entryPermit: 'CS-4',
    entryPermitUntil: entry.clock,
  })
  const view = await getPermit(foreman, permitId)
  expect([view.hostPermit?.number, view.entryPermit?.number]).toEqual(['H-77', 'CS-4'])
  expect((await getSignView(foreman, permitId)).until).toEqual(entry)

  const input = await issuing(worksite, permitId)
  const lateForm = { validUntilDay: late.day, validUntil: late.clock }
  await expect(issuePermit(foreman, { ...input, key: uuidv7(), ...lateForm })).rejects.toEqual(
    refusedFor('valid_until_over_host', 'valid_until_over_entry'),
  )
  await expect(
    db().query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data)
       VALUES ($1, $2, $3, 'issued', $4, 'test', jsonb_build_object('validUntil', kerf_now() + interval '3 h'))`,
      [uuidv7(), worksite.site.id, permitId, worksite.team.pai.id],
    ),
  ).rejects.toThrow('VALID_OVER_HOST')
  await issuePermit(foreman, { ...input, validUntilDay: entry.day, validUntil: entry.clock })
  expect((await permitRow(permitId)).state).toBe('open')
})

test('a linked permit says when it ends, and an end says of what', async () => {
  const whole = await preparation(worksite)
  const raw = Object.fromEntries(
    Object.entries({ ...whole, key: uuidv7() }).map(([name, value]) => [name, value ?? '']),
  )
  const wrong = (over: Record<string, string>) =>
    preparePermitSchema.safeParse({ ...raw, ...over }).error?.issues.map(({ path }) => path[0])
  expect(wrong({})).toBeUndefined()
  expect(wrong({ hostPermit: 'H-1' })).toEqual(['hostPermitUntil'])
  expect(wrong({ entryPermitUntil: '14:00' })).toEqual(['entryPermit'])
})

test('a confined space is not prepared without its entry permit, nor opened by the database', async () => {
  const tight = await buildWorksite(db())
  const { foreman } = viewersOf(tight)
  const confined = { ...tight.site.area.facts, enclosed: true, confinedSpace: true }
  const become = (facts: object) =>
    db().query('UPDATE areas SET facts = $2 WHERE id = $1', [tight.site.area.id, facts])
  // Found out after the preparation: the permit stands there without an entry permit.
  const early = await preparePermit(foreman, await preparation(tight))
  await become(confined)
  const without = await preparation(tight)
  await expect(preparePermit(foreman, without)).rejects.toEqual(refusedFor('ENTRY_PERMIT_MISSING'))
  const until = await siteTime(tight.site.zone, 300)
  const linked = { entryPermit: 'CS-9', entryPermitUntil: until.clock }
  expect((await preparePermit(foreman, await preparation(tight, linked))).id).toBeTruthy()

  await walk(foreman, tight, early.id)
  await clearPermit(foreman, permitStepSchema.parse(await formOn(early.id)))
  await signBoth(tight, early.id)
  await testAir(foreman, tight, early.id)
  await expect(issuePermit(foreman, await issuing(tight, early.id))).rejects.toEqual(
    refusedFor('entry_permit_missing'),
  )
  const opened = db().query(
    `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data)
     VALUES ($1, $2, $3, 'issued', $4, 'test', jsonb_build_object('validUntil', kerf_now() + interval '1 h'))`,
    [uuidv7(), tight.site.id, early.id, tight.team.pai.id],
  )
  await expect(opened).rejects.toThrow('ENTRY_PERMIT_MISSING')
  expect((await permitRow(early.id)).state).toBe('cleared')
})

test('the entry supervisor signs after the watch and before the PAI, by the app and by the database', async () => {
  const own = await buildWorksite(db())
  const { foreman } = viewersOf(own)
  const until = await siteTime(own.site.zone, 300)
  const linked = { entryPermit: 'CS-5', entryPermitUntil: until.clock }
  const { id } = await preparePermit(foreman, await preparation(own, linked))
  await walk(foreman, own, id)
  await clearPermit(foreman, permitStepSchema.parse(await formOn(id)))
  await testAir(foreman, own, id)
  const sign = async (personId: string) =>
    signPermit(
      foreman,
      signPermitSchema.parse({ ...(await formOn(id)), act: 'enter', personId, pin: PIN }),
    )
  await expect(sign(own.team.foreman.id)).rejects.toEqual(
    refusedFor('WATCH_SIGNS_FIRST', 'not_qualified'),
  )
  await signBoth(own, id)
  expect((await getSignView(foreman, id)).steps.map((one) => one.act)).toEqual([
    'agree',
    'acknowledge',
    'enter',
  ])
  await expect(issuePermit(foreman, await issuing(own, id))).rejects.toEqual(
    refusedFor('signature_missing'),
  )
  const waiting = async (viewer = viewersOf(own).pai) =>
    (await getToday(viewer, own.site.id)).waiting.map((one) => one.kind)
  expect(await waiting()).toEqual([])
  expect(await waiting(foreman)).toEqual([]) // no entry supervisor yet
  const opened = db().query(
    `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data)
     VALUES ($1, $2, $3, 'issued', $4, 'test', jsonb_build_object('validUntil', kerf_now() + interval '1 h'))`,
    [uuidv7(), own.site.id, id, own.team.pai.id],
  )
  await expect(opened).rejects.toMatchObject({ detail: expect.stringContaining('"enter"') })
  await db().query(
    `INSERT INTO qualifications (id, person_id, kind, valid_from, valid_until, evidence)
     VALUES ($1, $2, 'entry_supervisor', '2020-01-01', '2099-12-31', 'card')`,
    [uuidv7(), own.team.foreman.id],
  )
  expect((await getSignView(foreman, id)).supervisors.map((one) => one.id)).toEqual([
    own.team.foreman.id,
  ])
  expect(await waiting(foreman)).toEqual(['sign_enter'])
  await sign(own.team.foreman.id)
  expect(await waiting(foreman)).toEqual([])
  expect(await waiting()).toEqual(['issue'])
  await issuePermit(foreman, await issuing(own, id))
  expect((await permitRow(id)).state).toBe('open')
  const { signed } = await getPostedSheet(foreman, id)
  expect(signed.map(({ act, name }) => [act, name])).toContainEqual([
    'enter',
    own.team.foreman.name,
  ])
})

test('a permit that was opened in a confined space bears four signatures', async () => {
  const own = await buildWorksite(db())
  const facts = { ...own.site.area.facts, enclosed: true, confinedSpace: true }
  await db().query('UPDATE areas SET facts = $2 WHERE id = $1', [own.site.area.id, facts])
  const area = { ...own.site.area, facts }
  const { permit } = await buildOpenPermit(db(), { worksite: own, area })
  const { signatures } = await getPermit(viewersOf(own).foreman, permit.id)
  expect(signatures.map((one) => one.act)).toEqual(['agree', 'acknowledge', 'enter', 'issue'])
})
