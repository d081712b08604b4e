// Runs other programs. Node's own modules only.
import { spawn } from 'node:child_process'
import { inRoot } from './paths.mjs'

const KEPT_OUTPUT = 2_000_000

/**
 * Runs a program in the project folder and keeps what it prints.
 * @param {{ env?: NodeJS.ProcessEnv, isFailureFine?: boolean }} [options]
 * @returns {Promise<{ code: number, stdout: string, stderr: string }>} rejects, with the output, when it fails
 */
export function run(program, args, { env = process.env, isFailureFine = false } = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, { cwd: inRoot(), env, stdio: ['ignore', 'pipe', 'pipe'] })
    const output = { stdout: '', stderr: '' }
    for (const stream of ['stdout', 'stderr']) {
      child[stream].setEncoding('utf8').on('data', (text) => {
        output[stream] = (output[stream] + text).slice(-KEPT_OUTPUT)
      })
    }
    child.on('error', (error) => reject(Object.assign(error, output)))
    child.on('close', (code, signal) => {
      if (code === 0 || isFailureFine) return resolve({ code: code ?? 1, ...output })
      const how = signal ? `was ended by ${signal}` : `ended with exit code ${code}`
      reject(Object.assign(new Error(`${program} ${args.slice(0, 3).join(' ')} ${how}`), output))
    })
  })
}

/** Runs one of the project's installed command-line tools. */
export const runTool = (script, args, options) =>
  run(process.execPath, [inRoot('node_modules', script), ...args], options)

/** Runs TypeScript as a server would: `server-only` modules load, nothing is compiled beforehand. */
export const runTypeScript = (file, args, options) =>
  run(
    process.execPath,
    ['--conditions=react-server', '--import', 'tsx', inRoot(file), ...args],
    options,
  )

/** Starts a program that stays; `stop` asks it to end and insists after `patienceMs`. */
export function startProgram(program, args, { env, stdio = 'inherit', patienceMs = 6_000 }) {
  const child = spawn(program, args, { cwd: inRoot(), env, stdio })
  const ended = new Promise((resolve) => {
    child.on('error', (error) => resolve({ code: 1, error }))
    child.on('close', (code, signal) => resolve({ code, signal }))
  })
  const stop = async () => {
    if (child.exitCode !== null || child.signalCode !== null) return
    child.kill('SIGTERM')
    const insist = setTimeout(() => child.kill('SIGKILL'), patienceMs)
    await ended
    clearTimeout(insist)
  }
  return { child, ended, stop }
}
