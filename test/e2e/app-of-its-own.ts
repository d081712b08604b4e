import { startApp } from './app'
import { test } from './fixtures'

/** For specs that move the clock and need no browser: an app that no other spec uses afterwards. */
export const appOfItsOwn = test.extend({
  app: [
    // biome-ignore lint/correctness/noEmptyPattern: the runner reads the names from the pattern
    async ({}, use) => {
      const app = await startApp()
      await use(app)
      await app.stop()
    },
    { scope: 'worker', timeout: 120_000 },
  ],

  // biome-ignore lint/correctness/noEmptyPattern: the runner reads the names from the pattern
  noConsoleErrors: async ({}, use) => {
    await use(undefined)
  },
})
