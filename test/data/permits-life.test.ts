import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import { lookAgain } from '@/lib/data/permits/clearance'
import { getPermit } from '@/lib/data/permits/get'
import { handOver } from '@/lib/data/permits/hand-over'
import { endWork, holdPermit, resumePermit, withdrawPermit } from '@/lib/data/permits/hold'
import { listPermits } from '@/lib/data/permits/list'
import { logWork } from '@/lib/data/permits/log'
import {
  endWorkSchema,
  handOverSchema,
  holdPermitSchema,
  logWorkSchema,
  newLookSchema,
  resumePermitSchema,
  withdrawPermitSchema,
} from '@/lib/schemas/permit'
import { buildPerson } from '../../seed/builders/people'
import { buildOpenPermit, buildWorksite, type Worksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import {
  cleared,
  formOn,
  issued,
  PIN,
  permitRow,
  prepared,
  signBoth,
  siteTime,
  testAir,
  viewersOf,
} from './permit-world'

let worksite: Worksite
const db = () => testDatabase().owner

beforeAll(async () => {
  worksite = await buildWorksite(db())
})

const hold = async (permitId: string) =>
  holdPermitSchema.parse({
    ...(await formOn(permitId)),
    torchOut: 'yes',
    valvesShut: 'yes',
    reason: 'Crane lift overhead',
  })
const look = async (permitId: string) =>
  newLookSchema.parse({
    ...(await formOn(permitId)),
    sameAsCleared: 'yes',
    what: 'Walked round, nothing moved',
  })
const resume = async (permitId: string) =>
  resumePermitSchema.parse({
    ...(await formOn(permitId)),
    personId: worksite.team.pai.id,
    pin: PIN,
  })
const end = async (permitId: string) =>
  endWorkSchema.parse({ ...(await formOn(permitId)), torchOut: 'yes', valvesShut: 'yes' })

describe('a permit', () => {
  test('lives from preparation through hold to the watch, with what it froze and who did what', async () => {
    const { foreman, operator, pai } = viewersOf(worksite)
    const permitId = await issued(worksite)
    const open = await getPermit(operator, permitId)
    expect(open.head.state).toBe('open')
    expect(open.signatures.map((one) => one.act)).toEqual(['agree', 'acknowledge', 'issue'])
    expect(open.watchMin).toBe(60)
    expect(open.vessels?.oxygen.cylinders).toHaveLength(1)
    expect(open.lastCutBy?.getTime()).toBe((open.validUntil?.getTime() ?? 0) - 60 * 60_000)

    await holdPermit(operator, await hold(permitId))
    const held = await getPermit(operator, permitId)
    expect(held.head.state).toBe('held')
    expect(held.watch?.remainingMs).toBeLessThanOrEqual(60 * 60_000)

    await lookAgain(foreman, await look(permitId))
    expect((await getPermit(pai, permitId)).lookedAgainAt).not.toBeNull()
    await resumePermit(pai, await resume(permitId))
    expect((await permitRow(permitId)).state).toBe('open')

    await endWork(operator, await end(permitId))
    expect((await permitRow(permitId)).state).toBe('watch')
    const { rows } = await db().query('SELECT reason FROM estimates WHERE permit_id = $1', [
      permitId,
    ])
    expect(rows).toEqual([{ reason: 'issued' }])
    const kinds = await db().query<{ kind: string }>(
      'SELECT kind FROM permit_events WHERE permit_id = $1 ORDER BY seq',
      [permitId],
    )
    expect(kinds.rows.map((row) => row.kind)).toEqual([
      'prepared',
      'cleared',
      'issued',
      'held',
      'resumed',
      'work_ended',
    ])
  })

  test('keeps a log of work inside its open time, and counts the pieces on the list', async () => {
    const built = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
    const { operator } = viewersOf(built)
    await testDatabase().setClock(20 * 60_000)
    try {
      const [from, to] = [await siteTime(built.site.zone, -15), await siteTime(built.site.zone, -5)]
      const cut = built.job.cuts[0]
      const typed = {
        key: uuidv7(),
        permitId: built.permit.id,
        cutId: cut?.id,
        pieces: '2',
        day: from.day,
        from: from.clock,
        to: to.clock,
        operatorId: built.team.operator.id,
      }
      const logged = await logWork(operator, logWorkSchema.parse(typed))
      expect(logged.isLate).toBe(false)
      const view = await getPermit(operator, built.permit.id)
      expect(view.lastLog).toMatchObject({ pieces: 2, cut: { doneCount: 2, count: cut?.count } })
    } finally {
      await testDatabase().setClock(0)
    }
  })

  test('passes the watch to another without a gap, and the torch to another operator', async () => {
    const here = await buildWorksite(db())
    const permitId = await issued(here)
    const { foreman } = viewersOf(here)
    const relief = await buildPerson(db(), {
      grants: [{ siteId: here.site.id, role: 'fire_watch' }],
    })
    const second = await buildPerson(db(), { grants: [{ siteId: here.site.id, role: 'operator' }] })
    await handOver(
      foreman,
      handOverSchema.parse({
        ...(await formOn(permitId)),
        role: 'fire_watch',
        personId: relief.id,
        pin: PIN,
      }),
    )
    await handOver(
      foreman,
      handOverSchema.parse({
        ...(await formOn(permitId)),
        role: 'operator',
        personId: second.id,
        pin: PIN,
      }),
    )
    const { rows } = await db().query(
      'SELECT person_id, role FROM stints WHERE permit_id = $1 AND to_at IS NULL ORDER BY role',
      [permitId],
    )
    expect(rows).toEqual([
      { person_id: relief.id, role: 'fire_watch' },
      { person_id: second.id, role: 'operator' },
    ])
    expect((await getPermit(foreman, permitId)).people).toMatchObject({
      operator: second.name,
      watcher: relief.name,
    })
  })

  test('may be withdrawn before it was ever open', async () => {
    const permitId = await cleared(worksite)
    const { foreman } = viewersOf(worksite)
    await withdrawPermit(
      foreman,
      withdrawPermitSchema.parse({ ...(await formOn(permitId)), reason: 'Bolted instead' }),
    )
    expect((await permitRow(permitId)).state).toBe('withdrawn')
  })

  test('is held in the same breath when the air goes bad', async () => {
    const here = await buildWorksite(db())
    const permitId = await issued(here)
    const { foreman } = viewersOf(here)
    const tested = await testAir(foreman, here, permitId, { lelPct: '12' })
    expect(tested).toMatchObject({ isHeld: true, against: [{ code: 'gas_test_lel' }] })
    expect((await permitRow(permitId)).state).toBe('held')
  })
})

describe('the list', () => {
  test('shows a site its own permits by what they are doing, a page at a time', async () => {
    const here = await buildWorksite(db())
    const { operator } = viewersOf(here)
    const preparing = await prepared(here)
    const open = await issued(here)
    const now = await listPermits(operator, { siteId: here.site.id, filter: 'now', after: null })
    expect(now.rows.map((row) => row.id)).toEqual([open, preparing])
    expect(now.next).toBeNull()
    const waiting = await listPermits(operator, {
      siteId: here.site.id,
      filter: 'preparing',
      after: null,
    })
    expect(waiting.rows.map((row) => row.id)).toEqual([preparing])
    await endWork(operator, await end(open))
    const watched = await listPermits(operator, {
      siteId: here.site.id,
      filter: 'watch',
      after: null,
    })
    expect(watched.rows[0]?.watch).toMatchObject({ isDone: false, pausedSince: null })
  })
})

test('signatures stand in the record beside whose phone it was', async () => {
  const permitId = await cleared(worksite)
  await signBoth(worksite, permitId)
  const { rows } = await db().query(
    "SELECT actor_id, payload::jsonb -> 'row' ->> 'person_id' AS signer FROM audit_entries WHERE act = 'permit:sign' AND payload::jsonb -> 'row' ->> 'permit_id' = $1 ORDER BY seq",
    [permitId],
  )
  expect(rows).toEqual([
    { actor_id: worksite.team.foreman.id, signer: worksite.team.operator.id },
    { actor_id: worksite.team.foreman.id, signer: worksite.team.fireWatch.id },
  ])
})
