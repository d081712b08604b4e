import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { swapCylinder } from '@/lib/data/swaps'
import { swapSchema } from '@/lib/schemas/swap'
import { testDatabase } from '../setup/database'
import { cylinderAt, newOutfit, newSite, newViewer, rowsOf, setCompany } from './gas-world'

let siteId: string
let hand: Viewer

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  hand = await newViewer(siteId, 'operator')
})

const ROUNDS = 12

/** Ends the session that has written so many rows of a swap; true when one was caught at it. */
async function killWriter(kindOf: string): Promise<boolean> {
  for (let i = 0; i < 300; i += 1) {
    const { rowCount } = await testDatabase().owner.query(
      `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
       WHERE datname = current_database() AND pid <> pg_backend_pid() AND state <> 'idle' AND query ILIKE $1`,
      [`%${kindOf}%`],
    )
    if (rowCount) return true
    await new Promise((resolve) => setImmediate(resolve))
  }
  return false
}

test('a swap broken off at any moment is whole or not there, and sent again it is one swap', async () => {
  let killed = 0
  for (let round = 0; round < ROUNDS; round += 1) {
    const outfitId = await newOutfit(siteId)
    const [first, second] = [
      await cylinderAt(siteId, 'oxygen-244', hand),
      await cylinderAt(siteId, 'oxygen-244', hand),
    ]
    const swap = (onSerial: string, off: Record<string, string>) =>
      swapSchema.parse({
        key: uuidv7(),
        outfitId,
        side: 'oxygen',
        place: '1',
        onSerial,
        shutAndBled: 'yes',
        leakTested: 'yes',
        ...off,
      })
    await swapCylinder(hand, swap(first.serial, {}))
    const input = swap(second.serial, { offCylinderId: first.id, markedEmpty: 'yes' })
    const [outcome, kill] = await Promise.allSettled([
      swapCylinder(hand, input),
      killWriter(round % 2 === 0 ? 'INTO swaps' : 'INTO cylinder_events'),
    ])
    if (kill.status === 'fulfilled' && kill.value) killed += 1
    const hanging = async () =>
      (
        await rowsOf<{ id: string }>('SELECT id FROM cylinders WHERE outfit_id = $1', [outfitId])
      ).map((row) => row.id)
    const after = await hanging()
    // Never none and never both; what was acknowledged is there.
    expect(after).toHaveLength(1)
    if (outcome.status === 'fulfilled') expect(after).toEqual([second.id])
    // The phone sends it again with the same key.
    await swapCylinder(hand, input)
    expect(await hanging()).toEqual([second.id])
    const events = await rowsOf(
      `SELECT e.id FROM cylinder_events e JOIN swaps s ON s.id = e.swap_id WHERE s.outfit_id = $1 AND e.kind = 'put_on'`,
      [outfitId],
    )
    expect(events).toHaveLength(2)
  }
  expect(killed).toBeGreaterThan(0)
})
