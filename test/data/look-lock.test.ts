import { beforeAll, expect, test } from 'vitest'
import { db } from '@/lib/data/client'
import { asOnlyLook, isAnyoneLooking } from '@/lib/data/findings/look-lock'
import { askForLook, lookWhereAsked } from '@/lib/data/findings/run'
import { testDatabase } from '../setup/database'
import { rowsOf, setCompany } from './gas-world'

beforeAll(() => setCompany())

/** Somebody at a look: what lets them end, and what comes of it. */
function somebodyLooking() {
  let end = () => {}
  let begun = () => {}
  const hasBegun = new Promise<void>((resolve) => {
    begun = resolve
  })
  const left = asOnlyLook(async () => {
    begun()
    await new Promise<void>((resolve) => {
      end = resolve
    })
    return 'looked'
  })
  return { hasBegun, left, end: () => end() }
}

const openRuns = () => rowsOf<{ id: string }>('SELECT id FROM audit_runs WHERE finished_at IS NULL')

test('one look at a time over all processes; the next may begin as soon as it ends', async () => {
  const first = somebodyLooking()
  await first.hasBegun
  expect(await isAnyoneLooking()).toBe(true)
  expect(await asOnlyLook(async () => 'a second')).toBeNull()
  first.end()
  expect(await first.left).toBe('looked')
  expect(await isAnyoneLooking()).toBe(false)
  expect(await asOnlyLook(async () => 'a second')).toBe('a second')
})

test('a look whose process is gone is taken over at once, not after a while', async () => {
  await askForLook(db, null)
  const gone = somebodyLooking()
  await gone.hasBegun
  const { owner } = testDatabase()
  await owner.query('UPDATE audit_runs SET started_at = kerf_now() WHERE finished_at IS NULL')
  expect(await lookWhereAsked()).toBe('nothing asked')
  expect(await openRuns()).toHaveLength(1)
  // What the database sees of a process that is killed: its session ends.
  const { rowCount } = await owner.query(
    `SELECT pg_terminate_backend(pid) FROM pg_locks WHERE locktype = 'advisory' AND objsubid = 2
     AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`,
  )
  expect(rowCount).toBe(1)
  await expect.poll(isAnyoneLooking, { timeout: 5_000 }).toBe(false)
  expect(await lookWhereAsked()).toBe('done')
  expect(await openRuns()).toEqual([])
  gone.end()
  expect(await gone.left).toBe('looked')
})

test('an act that fails lets go of the look', async () => {
  await expect(asOnlyLook(() => Promise.reject(new Error('broken')))).rejects.toThrow('broken')
  expect(await isAnyoneLooking()).toBe(false)
})
