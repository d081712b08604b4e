import { beforeAll, describe, expect, test } from 'vitest'
import { db } from '@/lib/data/client'
import { crewsLearned, learnCrewFactors, learnWhenDue } from '@/lib/data/crew-factors'
import { CREWS, type CrewKey } from '../../seed/demo/people'
import { SITES } from '../../seed/demo/places'
import { planDemo } from '../../seed/demo/plan'
import type { Planted, PlantedKind } from '../../seed/demo/world'
import { plantedIn } from '../../seed/planted'
import { seedDemo } from '../../seed/run'
import { atLocal, localDay } from '../../seed/zones'
import { testDatabase } from '../setup/database'

const NO_SECRETS = { passwordHash: '', pinHashes: new Map<string, string>() }
const rowsOf = async <T>(sql: string, values: unknown[] = []) =>
  (await testDatabase().owner.query(sql, values)).rows as T[]
const numberOf = async (sql: string, values: unknown[] = []) =>
  Number((await rowsOf<{ n: string }>(sql, values))[0]?.n)

let planted: readonly Planted[] = []
const plantedOf = (kind: PlantedKind) => planted.filter((fault) => fault.kind === kind)

beforeAll(async () => {
  planted = (await seedDemo(testDatabase().ownerUrl))?.planted ?? []
}, 240_000)

describe('how crews run against the tables', () => {
  test('is learned from the readings of done jobs, near what the demo company hides', async () => {
    await learnCrewFactors()
    const of = await crewsLearned(db)
    const crews = await rowsOf<{ id: string; name: string; site: string }>(
      'SELECT id, name, site_id AS site FROM crews',
    )
    for (const { hiddenFactor, name } of Object.values(CREWS)) {
      const crew = crews.find((one) => one.name === name)
      const found = of(crew?.site ?? '', crew?.id ?? '')
      expect(found?.isOwn, name).toBe(true)
      expect(found?.jobs).toBeGreaterThan(1)
      const { mean = 0, standardUncertainty = 0 } = found ?? {}
      // A year of jobs that each went 7 % one way or the other, read by gauges.
      expect(Math.abs(mean - hiddenFactor), `${name} ${mean}`).toBeLessThan(
        Math.max(0.12, 3 * standardUncertainty),
      )
    }
  })

  test('of a crew without a record is what all crews run', async () => {
    const of = await crewsLearned(db)
    const fleet = of('00000000-0000-4000-8000-000000000000', null)
    expect(fleet).toMatchObject({ isOwn: false })
    expect(fleet?.mean).toBeGreaterThan(0.9)
    expect(fleet?.mean).toBeLessThan(1.4)
  })

  test('learning again adds to what was learned and changes none of it', async () => {
    const before = await numberOf('SELECT count(*) AS n FROM crew_factors')
    await learnWhenDue()
    expect(await numberOf('SELECT count(*) AS n FROM crew_factors')).toBe(before)
    await learnCrewFactors()
    expect(await numberOf('SELECT count(*) AS n FROM crew_factors')).toBe(before + 1)
  })
})

describe('the demo company', () => {
  test('is the same company for the same moment', () => {
    const moment = Date.UTC(2026, 3, 13, 17, 28)
    const [once, again] = [planDemo(moment, NO_SECRETS), planDemo(moment, NO_SECRETS)]
    expect(again.facts.length).toBe(once.facts.length)
    expect(again).toEqual(once)
  })

  test('cuts nothing on a look of the shift before, at whatever hour it is started', () => {
    for (const hour of [12, 13, 14, 15, 16]) {
      const moment = Date.UTC(2026, 11, 1, hour, 20)
      const { facts } = planDemo(moment, NO_SECRETS)
      const rowsIn = (table: string, sinceMs = 0) =>
        facts.flatMap((fact) =>
          fact.table === table && 'rows' in fact && fact.atMs > sinceMs ? fact.rows : [],
        )
      const begun = new Map(
        SITES.map(({ name, zone, shiftStarts: [clock = ''] }) => {
          const minutes = Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3))
          const site = rowsIn('sites').find((row) => row.name === name)
          return [site?.id, atLocal(zone, localDay(zone, moment), minutes)]
        }),
      )
      const today = moment - 12 * 3_600_000
      const across = rowsIn('hot_work_logs', today).filter((log) => {
        const shiftMs = begun.get(log.site_id) ?? Number.NaN
        return log.permit_id && Number(log.from_at) < shiftMs && Number(log.to_at) > shiftMs
      })
      expect(across, new Date(moment).toISOString()).toEqual([])
      expect(JSON.stringify(rowsIn('permit_events', today))).toContain('Change of shift')
    }
  })

  test('is seeded once: where a company is, nothing is added', async () => {
    const before = await numberOf('SELECT count(*) AS n FROM audit_entries')
    expect(await seedDemo(testDatabase().ownerUrl)).toBeNull()
    expect(await numberOf('SELECT count(*) AS n FROM audit_entries')).toBe(before)
  })

  test('has a shop, five sites in as many zones, three crews, all eight roles and six sizes of cylinders', async () => {
    expect(await numberOf('SELECT count(*) AS n FROM sites')).toBe(6)
    expect(await numberOf(`SELECT count(DISTINCT zone) AS n FROM sites WHERE kind <> 'yard'`)).toBe(
      5,
    )
    expect(await numberOf('SELECT count(*) AS n FROM crews')).toBe(3)
    expect(await numberOf('SELECT count(DISTINCT role) AS n FROM grants')).toBe(8)
    expect(await numberOf('SELECT count(*) AS n FROM cylinders')).toBe(180)
    expect(await numberOf('SELECT count(DISTINCT size_id) AS n FROM cylinders')).toBe(6)
  })

  test('leaves the shipped clock behind, and nothing later than it', async () => {
    const [clock] = await rowsOf<{ body: string }>(
      `SELECT prosrc AS body FROM pg_proc WHERE proname = 'kerf_now'`,
    )
    expect(clock?.body).toContain('clock_timestamp()')
    expect(await numberOf('SELECT count(*) AS n FROM audit_entries WHERE at > kerf_now()')).toBe(0)
  })

  test('shows every state of a permit today', async () => {
    const states = await rowsOf<{ state: string }>(
      `SELECT DISTINCT state FROM permits WHERE created_at > kerf_now() - interval '20 hours' ORDER BY 1`,
    )
    expect(states.map((row) => row.state)).toEqual([
      'cleared',
      'closed',
      'held',
      'open',
      'preparing',
      'watch',
    ])
    expect(
      await numberOf(
        `SELECT count(*) AS n FROM permits WHERE state = 'watch' AND stopped_at IS NOT NULL`,
      ),
    ).toBe(1)
    expect(
      await numberOf(
        `SELECT count(*) AS n FROM permits p WHERE state = 'watch' AND (SELECT done_at FROM kerf_watch_progress(p.id)) IS NOT NULL`,
      ),
    ).toBe(2)
    expect(await numberOf(`SELECT count(*) AS n FROM orders WHERE state = 'confirmed'`)).toBe(1)
  })
})

describe('what it keeps beside permits', () => {
  test('is there to be seen: trucks, extinguishers, tests of outfits, a count with differences, a visitor, a near miss', async () => {
    const states = await rowsOf<{ state: string }>('SELECT state FROM trips ORDER BY 1')
    expect(states.map((row) => row.state)).toEqual(['loading', 'under_way'])
    expect(
      await numberOf(`SELECT count(*) AS n FROM cylinders WHERE status = 'in_transit'`),
    ).toBeGreaterThan(1)
    for (const table of [
      'vehicles',
      'trip_items',
      'extinguishers',
      'extinguisher_checks',
      'assignments',
      'visitors',
      'incidents',
      'stock_sightings',
      'storage_answers',
      'supply_agreements',
      'rent_terms',
    ])
      expect(await numberOf(`SELECT count(*) AS n FROM ${table}`), table).toBeGreaterThan(0)
    expect(
      await numberOf(
        `SELECT count(*) AS n FROM cylinders c JOIN sites s ON s.id = c.site_id
         WHERE s.name = 'Hollin Yard' AND c.status IN ('full', 'partial', 'empty')
           AND NOT EXISTS (SELECT 1 FROM stock_sightings x WHERE x.serial = c.serial)`,
      ),
    ).toBeGreaterThan(0)
    expect(
      await numberOf(
        `SELECT count(*) AS n FROM stock_sightings x WHERE NOT EXISTS (SELECT 1 FROM cylinders c WHERE c.serial = x.serial)`,
      ),
    ).toBe(1)
  })
})

describe('its record', () => {
  test('has nobody in two places', async () => {
    const overlaps = `SELECT count(*) AS n FROM stints a JOIN stints b ON a.person_id = b.person_id AND a.id < b.id AND a.slot <> b.slot
      AND tstzrange(a.from_at, a.to_at) && tstzrange(b.from_at, b.to_at)`
    expect(await numberOf(overlaps)).toBe(0)
    const movers = `SELECT count(*) AS n FROM (
      SELECT person_id FROM (
        SELECT person_id, site_id, at FROM permit_events UNION ALL SELECT person_id, site_id, at FROM signatures
        UNION ALL SELECT person_id, site_id, at FROM rounds UNION ALL SELECT person_id, site_id, at FROM cylinder_events
        UNION ALL SELECT person_id, site_id, recorded_at FROM hot_work_logs) AS acts
      WHERE person_id IS NOT NULL GROUP BY person_id, at::date HAVING count(DISTINCT site_id) > 1) AS moved`
    expect(await numberOf(movers)).toBe(0)
  })

  test('holds in every chain', async () => {
    const broken = `SELECT count(*) AS n FROM (
      SELECT seq, hash, prev_hash, encode(sha256(convert_to(prev_hash || payload, 'UTF8')), 'hex') AS again,
             lag(hash, 1, repeat('0', 64)) OVER (PARTITION BY chain ORDER BY seq) AS before, row_number() OVER (PARTITION BY chain ORDER BY seq) AS place
      FROM audit_entries) AS e WHERE hash <> again OR prev_hash <> before OR seq <> place`
    expect(await numberOf(broken)).toBe(0)
    expect(await numberOf('SELECT count(DISTINCT chain) AS n FROM audit_entries')).toBe(7)
  })

  test('gives every cylinder its state again from its events', async () => {
    const before = await rowsOf('SELECT * FROM cylinders ORDER BY id')
    const replayed = await numberOf('SELECT kerf_rebuild_cylinders() AS n')
    expect(replayed).toBe(await numberOf('SELECT count(*) AS n FROM cylinder_events'))
    expect(await rowsOf('SELECT * FROM cylinders ORDER BY id')).toEqual(before)
  })

  test('shows what each crew really uses against its estimates', async () => {
    const ratios = await rowsOf<{ name: string; ratio: number }>(`
      WITH used AS (
        SELECT job_id, sum(first - last) AS kg FROM (
          SELECT DISTINCT e.job_id, e.cylinder_id, first_value(e.contents_kg) OVER w AS first, last_value(e.contents_kg) OVER w AS last
          FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id AND c.gas_id = 'oxygen'
          WHERE e.job_id IS NOT NULL AND e.contents_kg IS NOT NULL
          WINDOW w AS (PARTITION BY e.job_id, e.cylinder_id ORDER BY e.seq ROWS BETWEEN UNBOUNDED PRECEDING AND UNBOUNDED FOLLOWING)) AS stays
        GROUP BY job_id),
      estimated AS (SELECT DISTINCT ON (job_id) job_id, oxygen_kg FROM estimates ORDER BY job_id, kept_at)
      SELECT cr.name, (sum(u.kg) / sum(e.oxygen_kg))::float8 AS ratio
      FROM jobs j JOIN crews cr ON cr.id = j.crew_id JOIN used u ON u.job_id = j.id JOIN estimated e ON e.job_id = j.id
      WHERE j.state = 'done' GROUP BY cr.name`)
    for (const key of Object.keys(CREWS) as CrewKey[]) {
      const ratio = ratios.find((row) => row.name === CREWS[key].name)?.ratio ?? 0
      expect(
        Math.abs(ratio / CREWS[key].hiddenFactor - 1),
        `${CREWS[key].name}: ${ratio}`,
      ).toBeLessThan(0.1)
    }
  })
})

/** What was lost while it stood in the rack, over its uncertainty: the largest such fall of a cylinder after a moment. */
const FELL_STANDING = `SELECT (p.contents_kg - e.contents_kg) / sqrt(e.contents_u_kg ^ 2 + p.contents_u_kg ^ 2) AS n
  FROM cylinder_events e
  JOIN cylinders c ON c.id = e.cylinder_id
  JOIN cylinder_events p ON p.cylinder_id = e.cylinder_id AND p.seq = e.seq - 1 AND p.kind IN ('received', 'read', 'unloaded')
  WHERE e.kind IN ('read', 'put_on') AND e.outfit_id IS NOT DISTINCT FROM (CASE e.kind WHEN 'read' THEN NULL ELSE e.outfit_id END)
    AND c.serial = $1 AND e.at > $2
  ORDER BY n DESC LIMIT 1`

describe('what was planted', () => {
  test('can be told again from the database alone', async () => {
    expect(await plantedIn(testDatabase().owner)).toEqual(planted)
  })

  test('includes two swaps that nobody logged: one stands full in the records and turns out empty', async () => {
    const swaps = plantedOf('unlogged_swap')
    expect(swaps).toHaveLength(2)
    for (const { serials, atMs } of swaps)
      expect(await numberOf(FELL_STANDING, [serials?.[1], new Date(atMs)])).toBeGreaterThan(4)
  })

  test('includes one mistyped reading that nobody corrected', async () => {
    const [typed, ...more] = plantedOf('mistyped_reading')
    expect(more).toHaveLength(0)
    const odd = `SELECT abs(e.contents_kg - before.contents_kg) / sqrt(e.contents_u_kg ^ 2 + before.contents_u_kg ^ 2) AS n
      FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
      JOIN cylinder_events before ON before.cylinder_id = c.id AND before.seq = e.seq - 1
      WHERE c.serial = $1 AND e.at = $2 AND e.kind = 'read'`
    expect(await numberOf(odd, [typed?.serials?.[0], new Date(typed?.atMs ?? 0)])).toBeGreaterThan(
      3,
    )
    expect(
      await numberOf(`SELECT count(*) AS n FROM cylinder_events WHERE kind = 'corrected'`),
    ).toBe(0)
  })

  test('includes one slow leak: a cylinder that stands in the yard and loses gas', async () => {
    const [leak, ...more] = plantedOf('slow_leak')
    expect(more).toHaveLength(0)
    const lost = `SELECT first.contents_kg - c.contents_kg AS n FROM cylinders c
      JOIN LATERAL (SELECT contents_kg FROM cylinder_events e WHERE e.cylinder_id = c.id AND e.kind = 'read' ORDER BY e.seq LIMIT 1) AS first ON true
      WHERE c.serial = $1 AND NOT EXISTS (SELECT 1 FROM cylinder_events e WHERE e.cylinder_id = c.id AND e.kind = 'put_on' AND e.at > $2)`
    expect(await numberOf(lost, [leak?.serials?.[0], new Date(leak?.atMs ?? 0)])).toBeGreaterThan(2)
  })

  test('includes stops, late rounds and one work outside a permit', async () => {
    const stops = plantedOf('stop').map((fault) => fault.subjectId)
    expect(
      await numberOf(
        'SELECT count(*) AS n FROM permits WHERE stopped_at IS NOT NULL AND id = ANY ($1::uuid[])',
        [stops],
      ),
    ).toBe(stops.length)
    const late = plantedOf('late_round').map((fault) => fault.subjectId)
    expect(
      await numberOf(
        'SELECT count(DISTINCT permit_id) AS n FROM rounds WHERE late_ms > 120000 AND permit_id = ANY ($1::uuid[])',
        [late],
      ),
    ).toBe(late.length)
    const [outside] = plantedOf('work_outside_permit')
    expect(
      await numberOf('SELECT count(*) AS n FROM work_outside_permit WHERE id = $1', [
        outside?.subjectId,
      ]),
    ).toBe(1)
  })
})
