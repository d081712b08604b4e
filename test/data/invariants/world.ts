import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import type { TestDatabase } from '../../setup/database'

/** A small company: one site with two areas that one view covers, a far area, a designated one, and its people. */
export interface World {
  siteId: string
  otherSiteId: string
  bay: string
  bayTwin: string
  deck: string
  bench: string
  jobId: string
  outfitId: string
  operator: string
  otherOperator: string
  thirdOperator: string
  watch: string
  otherWatch: string
  pai: string
  novice: string
}

const id = () => randomUUID()

async function insertPeople(owner: pg.Pool, siteId: string) {
  const person = async (name: string, kinds: readonly string[], role: string) => {
    const personId = id()
    await owner.query(
      `INSERT INTO people (id, name, email, password_hash) VALUES ($1, $2, $3, 'none')`,
      [personId, name, `${personId}@example.test`],
    )
    await owner.query(`INSERT INTO grants (id, person_id, site_id, role) VALUES ($1, $2, $3, $4)`, [
      id(),
      personId,
      siteId,
      role,
    ])
    for (const kind of kinds) {
      await owner.query(
        `INSERT INTO qualifications (id, person_id, kind, valid_from, valid_until, evidence)
         VALUES ($1, $2, $3, '2020-01-01', '2099-12-31', 'card')`,
        [id(), personId, kind],
      )
    }
    return personId
  }
  return {
    operator: await person('Op One', ['torch_operator', 'fire_watch', 'pai'], 'operator'),
    otherOperator: await person('Op Two', ['torch_operator', 'fire_watch'], 'operator'),
    thirdOperator: await person('Op Three', ['torch_operator'], 'operator'),
    watch: await person('Watch One', ['fire_watch', 'torch_operator'], 'fire_watch'),
    otherWatch: await person('Watch Two', ['fire_watch'], 'fire_watch'),
    pai: await person('Pai One', ['pai', 'torch_operator'], 'pai'),
    novice: await person('New One', [], 'operator'),
  }
}

async function insertPlaces(owner: pg.Pool) {
  const [siteId, otherSiteId, view] = [id(), id(), id()]
  for (const site of [siteId, otherSiteId]) {
    await owner.query(
      `INSERT INTO sites (id, name, short_name, kind, zone, address, emergency_words)
       VALUES ($1::uuid, $2, 'S', 'yard', 'America/Chicago', 'a', 'e')`,
      [site, site],
    )
  }
  const area = async (areaClass: string, viewId: string | null, name: string) => {
    const areaId = id()
    await owner.query(
      `INSERT INTO areas (id, site_id, name, area_class, view_id, facts, posts) VALUES ($1, $2, $3, $4, $5, '{}', '[]')`,
      [areaId, siteId, name, areaClass, viewId],
    )
    return areaId
  }
  return {
    siteId,
    otherSiteId,
    bay: await area('permit', view, 'Bay'),
    bayTwin: await area('permit', view, 'Bay twin'),
    deck: await area('permit', null, 'Deck'),
    bench: await area('designated', null, 'Bench'),
  }
}

const SIZES = [
  ['oxygen-244', 'oxygen', 9.2],
  ['acetylene-145', 'acetylene', 4.5],
] as const

async function insertStock(owner: pg.Pool, siteId: string) {
  await owner.query(
    `INSERT INTO gases (id, name, side) VALUES ('oxygen', 'Oxygen', 'oxygen'), ('acetylene', 'Acetylene', 'fuel') ON CONFLICT DO NOTHING`,
  )
  for (const [sizeId, gasId, nominalKg] of SIZES) {
    await owner.query(
      `INSERT INTO cylinder_sizes (id, gas_id, name, nominal_kg, heel_kg, source) VALUES ($1, $2, $1, $3, 0.3, 'test') ON CONFLICT DO NOTHING`,
      [sizeId, gasId, nominalKg],
    )
  }
  const outfitId = id()
  await owner.query(
    `INSERT INTO outfits (id, site_id, number, fuel_gas_id) VALUES ($1::uuid, $2, $3, 'acetylene')`,
    [outfitId, siteId, outfitId],
  )
  return outfitId
}

/** Builds a world of its own in the file's database, so that tests share nothing. */
export async function newWorld(database: TestDatabase): Promise<World> {
  const { owner } = database
  const places = await insertPlaces(owner)
  const people = await insertPeople(owner, places.siteId)
  const outfitId = await insertStock(owner, places.siteId)
  const jobId = id()
  await owner.query(
    `INSERT INTO jobs (id, site_id, number, title, planned_start, planned_end) VALUES ($1::uuid, $2, $3, 'Job', '2026-01-01', '2030-01-01')`,
    [jobId, places.siteId, jobId],
  )
  await keepPlainCompany(database)
  return { ...places, ...people, outfitId, jobId }
}

/** A company that asks for nothing beside what the steps of these tests do, and always did. */
export const PLAIN_COMPANY = {
  ...{ gasTestBeforeEveryPermit: false, gasTestContinuousWhenEnclosed: false },
  ...{ lelStopAtPct: null, coMaxPpm: null, h2sMaxPpm: null, windMaxMph: null },
  ...{ breakLimitMin: null, paiOnSiteWithinMin: null },
}

async function keepPlainCompany({ owner, setClock }: TestDatabase): Promise<void> {
  const { rowCount } = await owner.query('SELECT 1 FROM company_layers')
  if (rowCount) return
  await setClock(-400 * 24 * 3_600_000)
  await owner.query(
    `INSERT INTO company_layers (id, params, citation) VALUES (gen_random_uuid(), $1, 'house')`,
    [JSON.stringify(PLAIN_COMPANY)],
  )
  await setClock(0)
}

/** One transaction as the app's role, in somebody's name. */
export async function asRuntime<T>(
  database: TestDatabase,
  personId: string,
  work: (client: pg.PoolClient) => Promise<T>,
): Promise<T> {
  const client = await database.runtime.connect()
  try {
    await client.query('BEGIN')
    await client.query(
      `SELECT set_config('kerf.actor_id', $1, true), set_config('kerf.actor_role', 'test', true)`,
      [personId],
    )
    const result = await work(client)
    await client.query('COMMIT')
    return result
  } catch (error) {
    await client.query('ROLLBACK')
    throw error
  } finally {
    client.release()
  }
}

type Params = Readonly<Record<string, unknown>>
export type Refused = Readonly<{
  sqlState: string
  codes: readonly string[]
  params: readonly Params[]
}>

/** What the database said no with; fails the test when it said yes. */
export async function refusal(attempt: Promise<unknown>): Promise<Refused> {
  const outcome = await attempt.then(
    () => null,
    (error: unknown) => error,
  )
  if (outcome === null) throw new Error('the database allowed it')
  const { code = 'none', detail = '' } = outcome as { code?: string; detail?: string }
  if (!code.startsWith('KW')) return { sqlState: code, codes: [], params: [] }
  const { reasons } = JSON.parse(detail) as { reasons: { code: string; params: Params }[] }
  return {
    sqlState: code,
    codes: reasons.map((reason) => reason.code),
    params: reasons.map((reason) => reason.params),
  }
}
