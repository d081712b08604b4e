import { pathToFileURL } from 'node:url'
import { hash } from '@node-rs/argon2'
import pg from 'pg'
import { PEOPLE } from './demo/people'
import { planDemo } from './demo/plan'
import type { Secrets } from './demo/set-up'
import { DEMO_PASSWORD } from './demo/sign-ins'
import type { Planted } from './demo/world'
import { type EmptyCompany, seedEmpty } from './empty'
import { playHistory } from './play-history'
import { insertReference } from './reference'

const say = (line: string) => process.stdout.write(`${line}\n`)

async function withOwner<T>(ownerUrl: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: ownerUrl, options: '-c timezone=UTC' })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

/** Gases and cylinder sizes; those that are there stay as they are. */
export async function seedReference(ownerUrl: string): Promise<number> {
  const added = await withOwner(ownerUrl, insertReference)
  if (added > 0) say(`Reference tables: ${added} rows added`)
  return added
}

/** The same parameters as the app's own hashes: lib/auth takes argon2's defaults too. */
async function makeSecrets(): Promise<Secrets> {
  const pins = await Promise.all(
    PEOPLE.map(async (person) => [person.key, await hash(person.pin)] as const),
  )
  return { passwordHash: await hash(DEMO_PASSWORD), pinHashes: new Map(pins) }
}

export type SeededDemo = Readonly<{ facts: number; planted: readonly Planted[]; seconds: number }>

/** The demo company, only where there is no company yet. Null when there is one. */
export async function seedDemo(
  ownerUrl: string,
  options: Readonly<{ nowMs?: number }> = {},
): Promise<SeededDemo | null> {
  await seedReference(ownerUrl)
  return withOwner(ownerUrl, async (client) => {
    const { rowCount } = await client.query('SELECT 1 FROM company LIMIT 1')
    if (rowCount) return null
    const started = Date.now()
    const secrets = await makeSecrets()
    const plan = planDemo(options.nowMs ?? started, secrets)
    say(
      `Demo company: a year thought out, ${plan.facts.length} facts, ${((Date.now() - started) / 1000).toFixed(1)} s`,
    )
    const steps = Math.ceil(plan.facts.length / 4)
    const shown = { next: steps }
    await playHistory(client, plan.facts, (done) => {
      if (done < shown.next) return
      shown.next += steps
      say(
        `Demo company: ${Math.round((100 * done) / plan.facts.length)} % written, ${((Date.now() - started) / 1000).toFixed(1)} s`,
      )
    })
    await client.query('ANALYZE')
    const seconds = (Date.now() - started) / 1000
    say(`Demo company: done in ${seconds.toFixed(1)} s`)
    return { facts: plan.facts.length, planted: plan.planted, seconds }
  })
}

async function main(): Promise<void> {
  const ownerUrl = process.env.DATABASE_URL
  if (!ownerUrl) throw new Error('DATABASE_URL must name the database, as its owner')
  const [flag, company] = process.argv.slice(2)
  if (flag === '--empty' && company) {
    const made = await seedEmpty(ownerUrl, JSON.parse(company) as EmptyCompany)
    say(made ? 'An empty company made' : 'There is a company already: nothing seeded')
    return
  }
  const seeded = await seedDemo(ownerUrl)
  if (!seeded) say('There is a company already: nothing seeded')
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) await main()
