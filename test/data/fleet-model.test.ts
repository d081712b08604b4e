import seedrandom from 'seedrandom'
import { expect, test } from 'vitest'
import { testDatabase } from '../setup/database'
import { checkHistory, checkRebuilt, newFleetWorld, playHistory } from './fleet-model'

const HISTORIES = 24
const STEPS = 40

test('random histories from several people at once put no cylinder in two places and make no gas', async () => {
  const database = testDatabase()
  let accepted = 0
  for (let i = 0; i < HISTORIES; i += 1) {
    const draw = seedrandom(`fleet ${i}`)
    const world = await newFleetWorld(database.owner)
    const played = await playHistory(database, draw, world, STEPS)
    expect(await checkHistory(database.owner, played.all), `history ${i}`).toEqual([])
    accepted += played.accepted
  }
  expect(accepted).toBeGreaterThan(HISTORIES * STEPS * 0.15)
  expect(await checkRebuilt(database.owner)).toEqual([])
})
