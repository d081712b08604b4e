// Starts web processes and waits until they can be used.
import { setTimeout as sleep } from 'node:timers/promises'
import { inRoot } from './paths.mjs'
import { freePort } from './postgres.mjs'
import { startProgram } from './run.mjs'
import { onEnd, StepError } from './steps.mjs'
import { runtimeUrl } from './urls.mjs'

const FIRST_PORT = 3000
const PORTS_TO_TRY = 20
const READY_LIMIT_MS = 60_000

/** PORT when given, else the first free one from 3000. */
export async function choosePort(host) {
  const given = process.env.PORT
  if (given) {
    if ((await freePort(Number(given), host)) !== null) return Number(given)
    throw new StepError(
      `Port ${given} is in use.`,
      'End what listens there, or set PORT to another.',
    )
  }
  for (let port = FIRST_PORT; port < FIRST_PORT + PORTS_TO_TRY; port += 1) {
    if ((await freePort(port, host)) !== null) return port
  }
  return freePort(0, host)
}

/** What a web process may know. The owner's address is not part of it. */
export function webEnv({ ownerUrl, port, host, secret, url }) {
  const { DATABASE_URL: _owner, ...inherited } = process.env
  return {
    ...inherited,
    KERFWATCH_DATABASE_URL: runtimeUrl(ownerUrl),
    PORT: String(port),
    HOST: host,
    NEXTAUTH_URL: url,
    NEXTAUTH_SECRET: secret,
    NEXT_TELEMETRY_DISABLED: '1',
  }
}

async function isReady(url) {
  try {
    const response = await fetch(`${url}/api/ready`, { signal: AbortSignal.timeout(5_000) })
    return { ok: response.ok, said: await response.text() }
  } catch (error) {
    return { ok: false, said: error.message }
  }
}

/** Starts one web process over the production build, and waits until it is ready. */
export async function startWeb(options) {
  const web = startProgram(process.execPath, [inRoot('bin', 'web.mjs')], {
    env: { ...webEnv(options), ...options.settings, NODE_ENV: 'production' },
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  })
  onEnd(web.stop)
  const local = `http://127.0.0.1:${options.port}`
  let last = { ok: false, said: '' }
  for (
    const until = Date.now() + READY_LIMIT_MS;
    Date.now() < until && web.child.exitCode === null;
    await sleep(100)
  ) {
    last = await isReady(local)
    if (last.ok) return { ...web, local }
    if (last.said.startsWith('{')) break // it answers, and says what is missing
  }
  await web.stop()
  throw new StepError(
    `The web process is not ready: ${last.said}`,
    'Read the lines above; /api/ready names what is missing.',
  )
}

/** A web process for the browser tests: a port of its own, the same environment as in production. */
export async function startTestWeb({ ownerUrl, secret, settings = {} }) {
  const port = await freePort(0)
  const url = `http://localhost:${port}`
  const web = await startWeb({ ownerUrl, port, host: '127.0.0.1', url, secret, settings })
  /** As a power cut would. */
  const kill = async () => {
    web.child.kill('SIGKILL')
    await web.ended
  }
  return { url, stop: web.stop, kill, pid: web.child.pid }
}
