import { encode } from 'next-auth/jwt'
import pg from 'pg'
import { withClient } from '../../bin/lib/database.mjs'
import { copyTemplate } from '../../bin/lib/test-cluster.mjs'
import { SESSION_OPTIONS } from '../../bin/lib/urls.mjs'
import { startTestWeb } from '../../bin/lib/web.mjs'
import { movedClockSql, RESTORE_CLOCK_SQL } from '../../lib/data/kerf-now'
import { startSmtpSink } from '../setup/smtp-sink'

const SECRET = 'e2e: mQ8vZt2KpXw5Rj7LhYc3NbGd6FsA1uEo'

export interface TestApp {
  url: string
  /** What this app mailed, as it was handed over. */
  mails: readonly string[]
  ownerUrl: string
  /** Runs SQL as the owner of this app's own database. */
  owner: pg.Pool
  /** Moves this app's clock by so many milliseconds from the real one; 0 is as shipped. */
  setClock: (offsetMs: number) => Promise<void>
  /** The session cookie that signing in as this person would give. */
  sessionCookie: (email: string) => Promise<{ name: string; value: string; url: string }>
  /** Ends the web process as a power cut would; `start` brings another, over the same database. */
  kill: () => Promise<void>
  start: () => Promise<void>
  stop: () => Promise<void>
}

function fromEnvironment(name: string): string {
  const value = process.env[name]
  if (!value)
    throw new Error(`${name} is not set: run the browser tests with "npm test -- browser"`)
  return value
}

async function sessionOf(ownerUrl: string, email: string) {
  const { rows } = await withClient(ownerUrl, (client) =>
    client.query<{ id: string; session_epoch: number }>(
      'SELECT id, session_epoch FROM people WHERE email = $1',
      [email],
    ),
  )
  const [person] = rows
  if (!person) throw new Error(`nobody has the e-mail ${email}`)
  return { personId: person.id, epoch: person.session_epoch }
}

/** A web process over the production build, with a copy of the filled database of its own. */
export async function startApp(): Promise<TestApp> {
  const ownerUrl = await copyTemplate(
    fromEnvironment('KERFWATCH_TEST_SERVER'),
    fromEnvironment('KERFWATCH_TEST_TEMPLATE'),
  )
  const mail = await startSmtpSink()
  const startWeb = () =>
    startTestWeb({ ownerUrl, secret: SECRET, settings: { SMTP_URL: mail.url } })
  let web = await startWeb()
  const owner = new pg.Pool({ connectionString: ownerUrl, options: SESSION_OPTIONS, max: 4 })
  return {
    get url() {
      return web.url
    },
    mails: mail.mails,
    ownerUrl,
    owner,
    async setClock(offsetMs) {
      await owner.query(offsetMs === 0 ? RESTORE_CLOCK_SQL : movedClockSql(Math.trunc(offsetMs)))
    },
    async sessionCookie(email) {
      const token = await sessionOf(ownerUrl, email)
      return {
        name: 'next-auth.session-token',
        value: await encode({ token, secret: SECRET, maxAge: 12 * 60 * 60 }),
        url: web.url,
      }
    },
    kill: () => web.kill(),
    async start() {
      web = await startWeb()
    },
    async stop() {
      await web.stop()
      await mail.stop()
      await owner.end()
    },
  }
}
