import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, test } from 'vitest'

const STEPS = pathToFileURL(path.resolve('bin/lib/steps.mjs')).href

// A closed terminal: its output is gone, then comes the hang-up.
test.each(['SIGHUP', 'SIGTERM', 'SIGINT'] as const)(
  'what was started is stopped on %s, though nobody hears of it any more',
  async (signal) => {
    const stopped = path.join(mkdtempSync(path.join(tmpdir(), 'kerfwatch-steps-')), 'stopped')
    const program = `
      import { writeFileSync } from 'node:fs'
      import { endOnSignals, onEnd } from ${JSON.stringify(STEPS)}
      endOnSignals()
      onEnd(async () => {
        await new Promise((resolve) => setTimeout(resolve, 50))
        writeFileSync(${JSON.stringify(stopped)}, '')
      })
      setInterval(() => {}, 1000)
      process.stdout.write('ready')`
    const child = spawn(process.execPath, ['--input-type=module', '--eval', program])
    await once(child.stdout, 'data')
    child.stdout.destroy()
    child.stderr.destroy()
    child.kill(signal)
    await once(child, 'exit')
    expect(existsSync(stopped)).toBe(true)
  },
)
