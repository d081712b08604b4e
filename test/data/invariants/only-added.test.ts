import { randomUUID } from 'node:crypto'
import { beforeEach, describe, expect, inject, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import { clockNow, insertLog, openPermit, step } from './permit-steps'
import { asRuntime, newWorld, refusal, type World } from './world'

const database = testDatabase()
let world: World
let permitId: string

const FACTS = [
  'cylinder_events',
  'swaps',
  'permit_events',
  'signatures',
  'clearance_answers',
  'gas_tests',
  'rounds',
  'hot_work_logs',
  'work_outside_permit',
  'outfit_events',
  'audit_entries',
  'estimates',
  'refused_attempts',
  'chain_checks',
  'crew_factors',
  'learned_demand',
  'sheets_sent',
  'pictures',
  'area_drawings',
  'permit_people',
  'sign_ons',
  'local_rulesets',
  'gas_instruments',
  'instrument_checks',
  'findings',
  'finding_decisions',
  'incidents',
  'incident_events',
  'site_balances',
  'evidence_files',
  'extinguisher_checks',
  'supply_agreements',
  'tip_checks',
  'paper_entries',
  'weather_reports',
  'storage_answers',
  'storage_confirmations',
  'order_delays',
] as const
const MOVED_BY_TRIGGERS = [
  'permits',
  'cylinders',
  'outfits',
  'stints',
  'permit_open_spans',
  'assignments',
  'visitors',
  'extinguishers',
  'vehicles',
  'trips',
  'trip_items',
  'supply_commitments',
] as const

beforeEach(async () => {
  world = await newWorld(database)
  permitId = await openPermit(database, world)
})

const asApp = (sql: string) =>
  refusal(asRuntime(database, world.pai, (client) => client.query(sql)))
const PERMISSION_DENIED = '42501'

describe('facts are only ever added', () => {
  test.each(FACTS)('the app cannot change, remove or empty %s', async (table) => {
    expect(
      (await asApp(`UPDATE ${table} SET ${table === 'audit_entries' ? "act = 'x'" : 'id = id'}`))
        .sqlState,
    ).toBe(PERMISSION_DENIED)
    expect((await asApp(`DELETE FROM ${table}`)).sqlState).toBe(PERMISSION_DENIED)
    expect((await asApp(`TRUNCATE ${table} CASCADE`)).sqlState).toBe(PERMISSION_DENIED)
  })

  test.each(MOVED_BY_TRIGGERS)('the app cannot remove from %s or empty it', async (table) => {
    expect((await asApp(`DELETE FROM ${table}`)).sqlState).toBe(PERMISSION_DENIED)
    expect((await asApp(`TRUNCATE ${table} CASCADE`)).sqlState).toBe(PERMISSION_DENIED)
  })

  test('the owner is refused as well, while the triggers are on', async () => {
    for (const sql of [
      'UPDATE permit_events SET role_then = role_then',
      'DELETE FROM signatures',
      'TRUNCATE rounds',
      'DELETE FROM permits',
    ]) {
      expect((await refusal(database.owner.query(sql))).codes, sql).toEqual(['APPEND_ONLY'])
    }
  })

  test('what is added keeps the database’s own time, number and site, whatever was sent', async () => {
    await asRuntime(database, world.pai, (client) =>
      client.query(
        `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, seq, at)
         VALUES ($1, $2, $3, 'note', $4, 'pai', 1, '2020-01-01')`,
        [randomUUID(), world.otherSiteId, permitId, world.pai],
      ),
    )
    const { rows } = await database.owner.query(
      `SELECT seq, site_id, at > now() - interval '1 minute' AS now FROM permit_events WHERE permit_id = $1 ORDER BY seq DESC LIMIT 1`,
      [permitId],
    )
    expect(rows[0]).toEqual({ seq: 4, site_id: world.siteId, now: true })
  })

  test('the app may lock a permit’s row, and all it can write there is a counter that the trigger sets', async () => {
    const versions = await asRuntime(database, world.pai, async (client) => {
      const { rows: before } = await client.query(
        'SELECT version FROM permits WHERE id = $1 FOR UPDATE',
        [permitId],
      )
      const { rows: after } = await client.query(
        'UPDATE permits SET version = 900 WHERE id = $1 RETURNING version',
        [permitId],
      )
      return { before: before[0].version, after: after[0].version }
    })
    expect(versions.after).toBe(versions.before + 1)
  })

  test('a correction is a new log that points at the old one, once', async () => {
    await database.setClock(60_000)
    const now = (await clockNow(database)).getTime()
    const fields = { permitId, from: new Date(now - 50_000), to: new Date(now - 20_000) }
    const log = (correctsId?: string) =>
      asRuntime(database, world.pai, (client) =>
        insertLog(client, world, correctsId ? { ...fields, correctsId } : fields),
      )
    const wrong = (await log()).rows[0]?.id ?? ''
    await log(wrong)
    expect((await refusal(log(wrong))).codes).toEqual(['ALREADY_CORRECTED'])
    expect((await refusal(log(randomUUID()))).codes).toEqual(['CORRECTS_UNKNOWN'])
    await database.setClock(0)
  })
})

describe('the app’s role owns nothing', () => {
  test.each([
    'ALTER TABLE permit_events DISABLE TRIGGER ALL',
    'ALTER TABLE permits DISABLE TRIGGER permit_keeps',
    'DROP TRIGGER permit_event ON permit_events',
    'DROP TABLE stints CASCADE',
    'ALTER TABLE permits ADD COLUMN x int',
    'ALTER TABLE stints DROP CONSTRAINT stints_one_place',
    'CREATE TABLE permits_copy (id int)',
    'CREATE SCHEMA mine',
    `CREATE OR REPLACE FUNCTION public.kerf_now() RETURNS timestamptz LANGUAGE sql AS $$SELECT now() + interval '1 day'$$`,
    'ALTER FUNCTION public.kerf_now() STABLE',
    'DROP FUNCTION public.kerf_close_reasons(permits, timestamptz)',
    'SET session_replication_role = replica',
    'CREATE RULE mine AS ON INSERT TO permit_events DO INSTEAD NOTHING',
    'GRANT UPDATE ON permits TO kerfwatch_runtime; UPDATE permits SET state = state',
    `INSERT INTO stints SELECT * FROM stints`,
    'LOCK TABLE permit_events IN ACCESS EXCLUSIVE MODE',
  ])('%s', async (sql) => {
    const refused = await asApp(sql)
    expect(['42501', '42P17']).toContain(refused.sqlState)
  })

  test('functions that write are not the app’s to call', async () => {
    for (const call of [
      `kerf_enter_watch(p, now(), now()) FROM permits p`,
      `kerf_begin_work(p, now()) FROM permits p`,
      `kerf_cylinder_store(c) FROM cylinders c`,
      `kerf_rebuild_cylinders()`,
      `kerf_notify_people('${world.siteId}', 'x', NULL, '{}', 'x')`,
    ]) {
      expect((await asApp(`SELECT ${call}`)).sqlState, call).toBe(PERMISSION_DENIED)
    }
  })

  test('no function runs as the owner without a fixed search path that ends in pg_temp', async () => {
    const { rows } = await database.owner.query(
      `SELECT proname FROM pg_proc WHERE pronamespace = 'public'::regnamespace AND prosecdef
         AND NOT coalesce(array_to_string(proconfig, ';') LIKE '%search_path=pg_catalog, public, pg_temp%', false)`,
    )
    expect(rows).toEqual([])
  })

  test('a migrated database lets it make no temporary tables', async () => {
    const { rows } = await database.owner.query(
      `SELECT has_database_privilege('kerfwatch_runtime', $1, 'TEMPORARY') AS may`,
      [inject('templateName')],
    )
    expect(rows[0]).toEqual({ may: false })
  })

  test('even where it can, a temporary table or function does not stand in for a real one', async () => {
    // A copied database does not inherit the privileges of its template.
    await database.owner.query(
      `DO $$BEGIN EXECUTE format('GRANT TEMPORARY ON DATABASE %I TO PUBLIC', current_database()); END$$`,
    )
    const now = await clockNow(database)
    const early = {
      permitId,
      from: new Date(now.getTime() - 3_600_000),
      to: new Date(now.getTime() - 3_000_000),
    }
    const attack = asRuntime(database, world.pai, async (client) => {
      await client.query(
        'CREATE TEMPORARY TABLE permit_open_spans ON COMMIT DROP AS SELECT * FROM public.permit_open_spans',
      )
      await client.query(
        'CREATE TEMPORARY TABLE stints ON COMMIT DROP AS SELECT * FROM public.stints',
      )
      await client.query(`UPDATE permit_open_spans SET from_at = '2000-01-01'`)
      await client.query(`UPDATE stints SET from_at = '2000-01-01'`)
      await client.query(
        `CREATE FUNCTION pg_temp.kerf_now() RETURNS timestamptz LANGUAGE sql AS $$SELECT timestamptz '2000-01-01'$$`,
      )
      await insertLog(client, world, early)
    })
    expect((await refusal(attack)).codes).toEqual(['NOT_OPEN', 'NOT_OPERATOR'])
  })

  test('the same person may still add what is theirs to add', async () => {
    await step(database, world, permitId, ({ event }) =>
      event('note', { data: { text: 'all well' } }),
    )
  })
})
