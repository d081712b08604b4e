import path from 'node:path'
import { defineConfig } from 'vitest/config'

const root = import.meta.dirname

export default defineConfig({
  resolve: {
    alias: [
      // Without the stub every module of lib/data refuses to load outside Next.
      { find: /^server-only$/, replacement: path.join(root, 'test/stubs/server-only.ts') },
      { find: /^@\//, replacement: `${root}/` },
    ],
  },
  test: {
    // A machine in UTC hides every forgotten time zone.
    env: { TZ: 'America/New_York' },
    restoreMocks: true,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['test/unit/**/*.test.ts', 'test/unit/**/*.test.tsx'],
          testTimeout: 20_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'data',
          include: ['test/data/**/*.test.ts', 'test/faults/**/*.test.ts'],
          globalSetup: 'test/setup/data-server.ts',
          setupFiles: 'test/setup/data-file.ts',
          pool: 'forks',
          testTimeout: 60_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
})
