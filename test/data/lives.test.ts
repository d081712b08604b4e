import { expect, test } from 'vitest'
import { liveThem } from '../lives/life'
import { testDatabase } from '../setup/database'

/** These, or as many as fit into the time on a busy machine; `npm run proof -- lives` lives ten thousand. */
const WANTED = { lives: 200, mostCommands: 30, from: 1_000_000, mostMs: 150_000 }

test('in random lives of permits nothing breaks, and lib/permit, the actions and the triggers agree', async () => {
  const told = await liveThem(testDatabase(), WANTED)
  expect(told.lives).toBeGreaterThan(20)
  // Lives that never came to a proper end would have tried little of the watch.
  expect(told.ended.closed ?? 0).toBeGreaterThan(0)
}, 400_000)
