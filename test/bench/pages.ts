import { encode } from 'next-auth/jwt'
import type { Client } from 'pg'
import { withClient } from '@/bin/lib/database.mjs'
import { movedClockSql } from '@/lib/data/kerf-now'
import { loadedDatabase, RECORDS_END } from './load/fill'
import { type CountingProxy, startCountingProxy } from './measure/counting-proxy'
import { interleaved, percentile } from './measure/interleave'
import { rowsTouched } from './measure/rows-touched'
import { type MeasuredPage, PAGES } from './measure/what-is-measured'

export const name = 'Pages with 100,000 cylinders, 1,000,000 cylinder events and 10,000 permits'

const WARM_UP = 6
const TIMES = 80
const MOST_TIMES_EMPTY = 2.5
const MOST_STATEMENTS = 12
/** Of what a page may be handed and may look at, whatever the company has gathered. */
const MOST_ROWS = 2_000
const MOST_ROWS_TOUCHED = 20_000
const COUNTED = 3

interface Context {
  serverUrl: string
  template: string
  startWeb: (ownerUrl: string) => Promise<{ url: string; stop: () => Promise<void> }>
  secret: string
  say: (text: string) => void
}
type Figure = Readonly<{ value: number; unit: string; aim: string; holds: boolean }>

/** The cookie that signing in as this person would give. */
async function cookieOf(client: Client, email: string, secret: string): Promise<string> {
  const { rows } = await client.query<{ id: string; session_epoch: number }>(
    'SELECT id, session_epoch FROM people WHERE email = $1',
    [email],
  )
  const [person] = rows
  if (!person) throw new Error(`nobody has the e-mail ${email}`)
  const token = { personId: person.id, epoch: person.session_epoch }
  return `next-auth.session-token=${await encode({ token, secret, maxAge: 12 * 60 * 60 })}`
}

type Visit = Readonly<{ path: string; cookie: string }>

/** Fetches a page whole, as a browser would before it shows it; refuses anything but the page. */
async function fetchPage(url: string, { path, cookie }: Visit): Promise<string> {
  const response = await fetch(`${url}${path}`, { headers: { cookie }, redirect: 'manual' })
  const html = await response.text()
  if (response.status !== 200) throw new Error(`${path} answered ${response.status}`)
  return html
}

async function timePage(url: string, visit: Visit): Promise<number> {
  const from = performance.now()
  await fetchPage(url, visit)
  return performance.now() - from
}

const middle = (values: readonly number[]) => percentile(values, 50)

/** How many statements a page runs, the rows they hand over, and those they look at to find them. */
async function countPage(
  { url, proxy, client }: Readonly<{ url: string; proxy: CountingProxy; client: Client }>,
  visit: Visit,
) {
  const counts: number[] = []
  const handed: number[] = []
  let last = proxy.seen()
  for (let time = 0; time < COUNTED; time += 1) {
    proxy.reset()
    await fetchPage(url, visit)
    last = proxy.seen()
    counts.push(last.length)
    handed.push(last.reduce((sum, one) => sum + one.rows, 0))
  }
  let touched = 0
  for (const statement of last) touched += await rowsTouched(client, statement)
  return { statements: middle(counts), rows: middle(handed), touched }
}

const figure = (value: number, unit: string, most: number): Figure => ({
  value: Math.round(value * 100) / 100,
  unit,
  aim: `at most ${most}`,
  holds: value <= most,
})

async function measure(
  page: MeasuredPage,
  tools: Readonly<{
    url: string
    countedUrl: string
    proxy: CountingProxy
    client: Client
    secret: string
  }>,
): Promise<Record<string, Figure>> {
  const visit = async ({ path, email }: MeasuredPage['full']) => ({
    path,
    cookie: await cookieOf(tools.client, email, tools.secret),
  })
  const [full, empty] = [await visit(page.full), await visit(page.empty)]
  if (!(await fetchPage(tools.url, full)).includes(page.proof))
    throw new Error(`${page.name}: the page does not show "${page.proof}"`)
  await interleaved(
    WARM_UP,
    () => timePage(tools.url, full),
    () => timePage(tools.url, empty),
  )
  const { fullMs, emptyMs } = await interleaved(
    TIMES,
    () => timePage(tools.url, full),
    () => timePage(tools.url, empty),
  )
  const [p95, emptyP95] = [percentile(fullMs, 95), percentile(emptyMs, 95)]
  const counted = await countPage(
    { url: tools.countedUrl, proxy: tools.proxy, client: tools.client },
    full,
  )
  return {
    [`${page.name}: p95 beside the empty page`]: figure(p95 / emptyP95, 'times', MOST_TIMES_EMPTY),
    [`${page.name}: p95`]: {
      ...figure(p95, 'ms', MOST_TIMES_EMPTY * emptyP95),
      aim: `2.5 × ${emptyP95.toFixed(1)} ms of the empty page`,
    },
    [`${page.name}: statements`]: figure(counted.statements, 'statements', MOST_STATEMENTS),
    [`${page.name}: rows returned`]: figure(counted.rows, 'rows', MOST_ROWS),
    [`${page.name}: rows looked at`]: figure(counted.touched, 'rows', MOST_ROWS_TOUCHED),
  }
}

/** Background work would change what the next request reads: the clock's lock is kept from the app. */
const HOLD_TICK = `SELECT pg_advisory_lock(hashtextextended('kerfwatch background tick', 0))`

export async function run(context: Context): Promise<Record<string, Figure>> {
  const ownerUrl = await loadedDatabase(context, context.say)
  return withClient(ownerUrl, async (client) => {
    await client.query(HOLD_TICK)
    const proxy = await startCountingProxy(ownerUrl)
    const web = await context.startWeb(ownerUrl)
    const countedWeb = await context.startWeb(proxy.url)
    await client.query(movedClockSql(RECORDS_END.getTime() - Date.now()))
    const tools = {
      url: web.url,
      countedUrl: countedWeb.url,
      proxy,
      client,
      secret: context.secret,
    }
    const figures: Record<string, Figure> = {}
    for (const page of PAGES) Object.assign(figures, await measure(page, tools))
    await Promise.all([web.stop(), countedWeb.stop()])
    await proxy.stop()
    return figures
  })
}
