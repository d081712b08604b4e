import { beforeEach, expect, test } from 'vitest'
import { checkReadiness } from '@/lib/data/readiness'
import { testDatabase } from '../setup/database'

beforeEach(() => testDatabase().setClock(0))

test('a migrated database with the shipped clock is ready', async () => {
  expect(await checkReadiness()).toEqual({
    ok: true,
    database: true,
    migrations: true,
    clock: true,
  })
})

test('a database whose clock was moved serves nobody', async () => {
  await testDatabase().setClock(60_000)
  expect(await checkReadiness()).toMatchObject({ ok: false, clock: false, migrations: true })
  await testDatabase().setClock(0)
  expect(await checkReadiness()).toMatchObject({ ok: true })
})

test('a database older than the process serves nobody', async () => {
  const { owner } = testDatabase()
  await owner.query('UPDATE _prisma_migrations SET finished_at = NULL')
  expect(await checkReadiness()).toMatchObject({ ok: false, migrations: false, clock: true })
  await owner.query('UPDATE _prisma_migrations SET finished_at = started_at')
})
