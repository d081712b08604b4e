import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { answerClearance, reopenClearance } from '@/lib/data/permits/clearance'
import { handOver } from '@/lib/data/permits/hand-over'
import { holdPermit } from '@/lib/data/permits/hold'
import { getBriefing, signOn, signOnByCode, signVisitor } from '@/lib/data/permits/sign-ons'
import {
  clearanceAnswerSchema,
  handOverSchema,
  holdPermitSchema,
  permitStepSchema,
} from '@/lib/schemas/permit'
import { postedSignOnSchema, signOnSchema, signVisitorSchema } from '@/lib/schemas/sign-on'
import { buildPerson } from '../../seed/builders/people'
import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import {
  cleared,
  formOn,
  issued,
  PIN,
  prepared,
  refusedFor,
  viewerOf,
  viewersOf,
} from './permit-world'

let worksite: Worksite
let stranger: Viewer
const db = () => testDatabase().owner
const foreman = () => viewersOf(worksite).foreman

beforeAll(async () => {
  worksite = await buildWorksite(db())
  const elsewhere = await buildSite(db())
  const person = await buildPerson(db(), { grants: [{ siteId: elsewhere.id, role: 'foreman' }] })
  stranger = viewerOf(person, elsewhere.id, 'foreman')
})

const own = (permitId: string, personId: string, pin = PIN) =>
  signOnSchema.parse({ key: uuidv7(), permitId, personId, pin })
const visitor = (permitId: string, name = 'Ann Visitor', firm = 'Other Firm') =>
  signVisitorSchema.parse({ key: uuidv7(), permitId, name, firm, briefed: 'yes' })
const codeOf = async (permitId: string) => {
  const { rows } = await db().query('SELECT stop_code FROM permits WHERE id = $1', [permitId])
  return String(rows[0].stop_code)
}
const posted = (name: string) => postedSignOnSchema.parse({ name, firm: '', briefed: 'yes' })

describe('everyone in the area signs on to the briefing', () => {
  test('the crew with a PIN, visitors by word or by the posted code; twice is once', async () => {
    const permitId = await cleared(worksite)
    const { operator } = worksite.team
    await signOn(foreman(), own(permitId, operator.id))
    await signOn(foreman(), own(permitId, operator.id))
    await signVisitor(foreman(), visitor(permitId))
    await signVisitor(foreman(), visitor(permitId, 'ann visitor ', 'other firm'))
    await signOnByCode(await codeOf(permitId), posted('Bo Driver'))
    const { signOns, hands } = await getBriefing(foreman(), permitId)
    expect(signOns).toMatchObject([
      { name: 'Bo Driver', firm: null, how: 'code', isCurrent: true },
      { name: 'Ann Visitor', firm: 'Other Firm', how: 'word', isCurrent: true },
      { name: operator.name, how: 'pin', isCurrent: true },
    ])
    expect(hands.map(({ id }) => id)).not.toContain(operator.id)
    const { rows } = await db().query(
      "SELECT actor_role FROM audit_entries WHERE table_name = 'sign_ons' AND subject_id = $1 ORDER BY seq",
      [permitId],
    )
    expect(rows.map((row) => row.actor_role)).toEqual(['foreman', 'foreman', 'system'])
  })

  test('once the survey is another, it is asked for again', async () => {
    const permitId = await cleared(worksite)
    await signVisitor(foreman(), visitor(permitId))
    await reopenClearance(foreman(), permitStepSchema.parse(await formOn(permitId)))
    await answerClearance(
      foreman(),
      clearanceAnswerSchema.parse({ key: uuidv7(), permitId, item: 'floor', choice: 'swept' }),
    )
    const { signOns, canSign } = await getBriefing(foreman(), permitId)
    expect(signOns).toMatchObject([{ isCurrent: false }])
    expect(canSign).toBe(false)
  })

  test('an event of the permit alone asks nobody again', async () => {
    const own = await buildWorksite(db())
    const boss = viewersOf(own).foreman
    const permitId = await issued(own)
    await signVisitor(boss, visitor(permitId))
    const relief = await buildPerson(db(), {
      grants: [{ siteId: own.site.id, role: 'fire_watch' }],
    })
    const form = { ...(await formOn(permitId)), role: 'fire_watch', personId: relief.id, pin: PIN }
    await handOver(boss, handOverSchema.parse(form))
    expect((await getBriefing(boss, permitId)).signOns).toMatchObject([{ isCurrent: true }])
  })

  test('not before the area is cleared, not with a wrong PIN, not somebody of no part of the site', async () => {
    const permitId = await prepared(worksite)
    await expect(signOn(foreman(), own(permitId, worksite.team.operator.id))).rejects.toMatchObject(
      refusedFor('wrong_state'),
    )
    await expect(signVisitor(foreman(), visitor(permitId))).rejects.toMatchObject({
      reasons: [{ code: 'WRONG_STATE' }],
    })
    const ready = await cleared(worksite)
    await expect(
      signOn(foreman(), own(ready, worksite.team.operator.id, '135791')),
    ).rejects.toMatchObject({ code: 'PIN_WRONG' })
    await expect(signOn(foreman(), own(ready, stranger.personId))).rejects.toMatchObject(
      refusedFor('PERSON_NOT_ON_SITE'),
    )
  })

  test('another site’s permit is not there, nor a code that hangs nowhere', async () => {
    const permitId = await cleared(worksite)
    await expect(getBriefing(stranger, permitId)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(signVisitor(stranger, visitor(permitId))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    await expect(signOnByCode('aaaaaaaaaaaa', posted('Bo Driver'))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
  })
})

test('who leaves the watch names who holds it, and how much is owed stands in the record', async () => {
  const site = await buildWorksite(db())
  const boss = viewersOf(site).foreman
  const permitId = await issued(site)
  await holdPermit(
    boss,
    holdPermitSchema.parse({
      ...(await formOn(permitId)),
      torchOut: 'yes',
      valvesShut: 'yes',
      reason: 'Lunch',
    }),
  )
  const relief = await buildPerson(db(), { grants: [{ siteId: site.site.id, role: 'fire_watch' }] })
  const form = async () => ({
    ...(await formOn(permitId)),
    role: 'fire_watch',
    personId: relief.id,
  })
  await expect(
    handOver(boss, handOverSchema.parse({ ...(await form()), pin: '135791' })),
  ).rejects.toMatchObject({ code: 'PIN_WRONG' }) // named, and not accepted
  await handOver(boss, handOverSchema.parse({ ...(await form()), pin: PIN }))
  const { rows } = await db().query(
    "SELECT kind, subject_id, data FROM permit_events WHERE permit_id = $1 AND kind IN ('watch_on', 'watch_off') ORDER BY seq",
    [permitId],
  )
  const named = { namedBy: site.team.foreman.id }
  expect(rows).toMatchObject([
    {
      kind: 'watch_on',
      subject_id: relief.id,
      data: { ...named, from: [site.team.fireWatch.id], owedMin: expect.any(Number) },
    },
    { kind: 'watch_off', subject_id: site.team.fireWatch.id, data: { ...named, to: relief.id } },
  ])
  expect(rows[0].data.owedMin).toBeGreaterThanOrEqual(59) // NFPA 51B-2019: 60 min
})
