import { randomUUID } from 'node:crypto'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { checkChains, lastChainCheck } from '@/lib/data/chain-checks'
import { testDatabase } from '../../setup/database'
import { openPermit, step } from '../invariants/permit-steps'
import { newWorld, type World } from '../invariants/world'

const DAY_MS = 86_400_000
const database = testDatabase()
let world: World
let permitId: string

beforeEach(async () => {
  world = await newWorld(database)
  permitId = await openPermit(database, world)
})
afterEach(() => database.setClock(0))

const addNote = () =>
  step(database, world, permitId, ({ event }) => event('note', { data: { text: randomUUID() } }))
async function tamper(sql: string) {
  await database.owner.query('ALTER TABLE audit_entries DISABLE TRIGGER USER')
  await database.owner.query(sql, [world.siteId])
  await database.owner.query('ALTER TABLE audit_entries ENABLE TRIGGER USER')
}
const verdict = () => lastChainCheck(world.siteId)

test('an untouched chain is found whole, and the next check goes on from there', async () => {
  await checkChains()
  const first = await verdict()
  expect(first).toMatchObject({ ok: true, firstBadSeq: null })
  await addNote()
  await checkChains()
  expect(await verdict()).toMatchObject({ ok: true, lastSeq: (first?.lastSeq ?? 0) + 1 })
})

test('an altered entry is found, and stays found', async () => {
  await tamper(
    `UPDATE audit_entries SET payload = replace(payload, 'INSERT', 'OTHER') WHERE chain = $1 AND seq = 3`,
  )
  await checkChains()
  expect(await verdict()).toMatchObject({ ok: false, firstBadSeq: 3, lastSeq: 2 })
  await addNote()
  await checkChains()
  expect(await verdict()).toMatchObject({ ok: false, firstBadSeq: 3 })
})

test('a tail that was cut off after a check is found by the next', async () => {
  await checkChains()
  const last = (await verdict())?.lastSeq ?? 0
  await tamper(
    `DELETE FROM audit_entries WHERE chain = $1 AND seq = (SELECT max(seq) FROM audit_entries WHERE chain = $1)`,
  )
  await checkChains()
  expect(await verdict()).toMatchObject({ ok: false, firstBadSeq: last })
})

test('an old entry that was altered after it was checked is found within a day', async () => {
  await checkChains()
  await tamper(`UPDATE audit_entries SET actor_role = 'somebody' WHERE chain = $1 AND seq = 2`)
  await database.setClock(DAY_MS + 3_600_000)
  await checkChains()
  expect(await verdict()).toMatchObject({ ok: false, firstBadSeq: 2 })
})
