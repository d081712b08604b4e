import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, test } from 'vitest'
import { db } from '@/lib/data/client'
import { RESTORE_CLOCK_SQL, SEEDING_CLOCK_SQL, SHIPPED_CLOCK_BODY } from '@/lib/data/kerf-now'
import { DatabaseFailure, toRefusal } from '@/lib/data/refusals'
import { inTransaction, SYSTEM } from '@/lib/data/tx'
import { AppError } from '@/lib/errors'
import { testDatabase } from '../../setup/database'
import { newWorld, type World } from '../invariants/world'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})

const caught = (attempt: Promise<unknown>) =>
  attempt.then(
    () => null,
    (error: unknown) => error,
  )
const permitOf = (operatorId: string, fireWatchId: string) => ({
  id: randomUUID(),
  siteId: world.otherSiteId,
  areaId: world.bay,
  jobId: world.jobId,
  what: 'beam',
  whereWords: 'bay',
  coldAnswer: {},
  plannedFrom: new Date('2026-01-01T08:00:00Z'),
  plannedUntil: new Date('2026-01-01T12:00:00Z'),
  operatorId,
  fireWatchId,
  preparedBy: world.pai,
})
const actor = () => ({ personId: world.pai, roles: ['pai'] })

describe('what the database refuses reaches the app as codes', () => {
  test('from a model call, with every reason', async () => {
    const error = await caught(
      inTransaction(actor(), 'test', (tx) =>
        tx.permit.create({ data: permitOf(world.operator, world.operator), select: { id: true } }),
      ),
    )
    expect(error).toBeInstanceOf(AppError)
    expect((error as AppError).reasons.map((reason) => reason.code)).toEqual([
      'JOB_OTHER_SITE',
      'AREA_OTHER_SITE',
      'OPERATOR_IS_WATCH',
    ])
  })

  test('from raw SQL', async () => {
    const error = await caught(
      inTransaction(
        actor(),
        'test',
        (tx) => tx.$executeRaw`SELECT kerf_refuse('SOME_CODE', '{"n": 3}')`,
      ),
    )
    expect(error).toMatchObject({ code: 'SOME_CODE', params: { n: 3 } })
  })

  test('from a trigger that fires only at commit', async () => {
    const error = await caught(
      inTransaction({ personId: null, roles: [] }, 'test', (tx) =>
        tx.companyLayer.create({
          data: { id: randomUUID(), params: {}, citation: 'x' },
          select: { id: true },
        }),
      ),
    )
    expect(error).toMatchObject({ code: 'ACTOR_UNSET', params: { table: 'company_layers' } })
  })

  test('a broken constraint names its rule and never quotes the row', async () => {
    const row = {
      id: randomUUID(),
      name: 'Secret Name',
      email: 'Upper@Example.test',
      passwordHash: 'secret-hash',
    }
    const error = await caught(
      inTransaction(SYSTEM, 'test', (tx) => tx.person.create({ data: row, select: { id: true } })),
    )
    expect(error).toMatchObject({ code: 'RULE_BROKEN', params: { rule: 'people_email_lower' } })
    expect(JSON.stringify(error, Object.getOwnPropertyNames(error))).not.toMatch(/secret/i)
  })

  test('a duplicate is told as one, and by its own name where it has one', async () => {
    const row = (over = {}) => ({
      id: randomUUID(),
      name: 'A',
      email: `${randomUUID()}@example.test`,
      passwordHash: 'x',
      ...over,
    })
    const add = (data: ReturnType<typeof row>) =>
      inTransaction(SYSTEM, 'test', (tx) => tx.person.create({ data, select: { id: true } }))
    const first = row()
    await add(first)
    expect(await caught(add(row({ id: first.id })))).toMatchObject({ code: 'DUPLICATE' })
    expect(await caught(add(row({ email: first.email })))).toMatchObject({ code: 'EMAIL_TAKEN' })
  })

  test('any other failure keeps its state and loses its text', async () => {
    const error = await caught(
      inTransaction(SYSTEM, 'test', (tx) => tx.$executeRaw`UPDATE permits SET what = 'secret'`),
    )
    expect(error).toBeInstanceOf(DatabaseFailure)
    expect(error).toMatchObject({ sqlState: '42501' })
  })

  test('errors that are not the database’s pass unchanged', () => {
    const error = new TypeError('a bug')
    expect(toRefusal(error)).toBe(error)
  })

  test('a lost deadlock is tried again and both succeed', async () => {
    const [a, b] = [world.siteId, world.otherSiteId]
    const rename = (first: string, second: string) =>
      inTransaction(SYSTEM, 'test', async (tx) => {
        await tx.$executeRaw`UPDATE sites SET address = 'x' WHERE id = ${first}::uuid`
        await tx.$queryRaw`SELECT pg_sleep(0.2)::text`
        await tx.$executeRaw`UPDATE sites SET address = 'y' WHERE id = ${second}::uuid`
      })
    await Promise.all([rename(a, b), rename(b, a)])
  })
})

describe('the clock', () => {
  const body = async () => {
    const rows = await db.$queryRaw<
      { body: string }[]
    >`SELECT prosrc AS body FROM pg_proc WHERE oid = 'public.kerf_now()'::regprocedure`
    return rows[0]?.body
  }

  test('is the shipped one after a migration', async () => {
    expect(await body()).toBe(SHIPPED_CLOCK_BODY)
  })

  test('stands still for the owner’s seeding alone, and is restored before the commit', async () => {
    const client = await database.owner.connect()
    try {
      await client.query('BEGIN')
      await client.query(SEEDING_CLOCK_SQL)
      await client.query(`SELECT set_config('kerf.seed_now', '2026-03-02T07:10:00Z', true)`)
      const { rows } = await client.query<{ now: Date }>('SELECT kerf_now() AS now')
      expect(rows[0]?.now.toISOString()).toBe('2026-03-02T07:10:00.000Z')
      expect(await body()).toBe(SHIPPED_CLOCK_BODY)
      await client.query(RESTORE_CLOCK_SQL)
      await client.query('COMMIT')
    } finally {
      client.release()
    }
    expect(await body()).toBe(SHIPPED_CLOCK_BODY)
  })

  test('cannot be moved by a setting in a session of the app', async () => {
    const rows = await inTransaction(SYSTEM, 'test', async (tx) => {
      await tx.$executeRaw`SELECT set_config('kerf.seed_now', '2020-01-01T00:00:00Z', true)`
      return tx.$queryRaw<{ year: number }[]>`SELECT extract(year FROM kerf_now())::int AS year`
    })
    expect(rows[0]?.year).toBeGreaterThan(2020)
  })
})
