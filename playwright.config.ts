import { defineConfig, devices } from '@playwright/test'

const browser = process.env.KERFWATCH_CHROMIUM

// Started by bin/test.mjs, which has built the app, filled a database and found the browser.
export default defineConfig({
  testDir: 'test/e2e',
  // Some 60 screens at two sizes take longer than all the rest: run when asked for.
  testIgnore: process.env.EVERY_SCREEN ? [] : ['**/screens.spec.ts'],
  outputDir: 'test-results',
  fullyParallel: false,
  forbidOnly: true,
  retries: 0,
  workers: 2,
  timeout: 90_000,
  globalTimeout: 40 * 60_000,
  expect: { timeout: 10_000 },
  reporter: 'list',
  use: {
    ...devices['Desktop Chrome'],
    locale: 'en-US',
    timezoneId: 'America/New_York',
    trace: 'retain-on-failure',
    navigationTimeout: 20_000,
    actionTimeout: 15_000,
    launchOptions: {
      ...(browser ? { executablePath: browser } : {}),
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
})
