import { expect, test } from 'vitest'
import { liveThem } from '../lives/life'
import { testDatabase } from '../setup/database'

/** As many as fit into this while the rest of the suite runs; `npm run proof -- lives` lives ten thousand. */
const WANTED = { lives: 40, mostCommands: 30, seed: 1916, mostMs: 45_000 }

test('in random lives of permits nothing breaks, and lib/permit, the actions and the triggers agree', async () => {
  const told = await liveThem(testDatabase(), WANTED)
  expect(told.lives).toBeGreaterThan(3)
  // Lives that never came to a proper end would have tried little of the watch.
  expect(told.ended.closed ?? 0).toBeGreaterThan(0)
}, 240_000)
