import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { keepEstimate } from '@/lib/data/estimates-kept'
import { getJobAudit, listAudits } from '@/lib/data/gas-audit'
import { readJobReadings } from '@/lib/data/gas-audit-rows'
import { type BuiltPermit, buildOpenPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { event, insert, newSite, newViewer, refusal, rowsOf } from './gas-world'
import { viewersOf } from './permit-world'
import { atMinute } from './watch-world'

let fullKg: number
const ALL = { siteId: null, days: null, after: null }
let built: BuiltPermit
let manager: Viewer
let auditor: Viewer
let stranger: Viewer
let operator: Viewer

const read = (kind: string, contentsKg: number, jobId: string | null) =>
  event({
    cylinderId: built.outfit.oxygen.id,
    siteId: built.site.id,
    kind,
    by: operator,
    outfit_id: built.outfit.id,
    side: 'oxygen',
    place: 1,
    job_id: jobId,
    gauge_kpa: 9_000,
    temperature_k: 294,
    contents_kg: contentsKg,
    contents_u_kg: 0.1,
  })

const log = async (fromMin: number, toMin: number, cut: number, pieces: number) => {
  const [row] = await rowsOf<{ issued_at: Date }>('SELECT issued_at FROM permits WHERE id = $1', [
    built.permit.id,
  ])
  const at = (minute: number) => new Date((row?.issued_at.getTime() ?? 0) + minute * 60_000)
  const id = uuidv7()
  await insert('hot_work_logs', {
    id,
    site_id: built.site.id,
    job_id: built.job.id,
    area_id: built.permit.areaId,
    permit_id: built.permit.id,
    operator_id: built.team.operator.id,
    outfit_id: built.outfit.id,
    cut_id: built.job.cuts[cut]?.id ?? '',
    pieces,
    from_at: at(fromMin).toISOString(),
    to_at: at(toMin).toISOString(),
    person_id: built.team.operator.id,
    role_then: 'operator',
  })
}

beforeAll(async () => {
  built = await buildOpenPermit(testDatabase().owner)
  const { foreman, operator: hand } = viewersOf(built)
  operator = hand
  manager = await newViewer(built.site.id, 'shop_manager')
  auditor = await newViewer(built.site.id, 'auditor')
  stranger = await newViewer(await newSite(), 'auditor')
  await keepEstimate(foreman, { key: uuidv7(), cutListId: built.job.cutListId })
  const [hung] = await rowsOf<{ kg: number }>(
    "SELECT contents_kg AS kg FROM cylinder_events WHERE cylinder_id = $1 AND kind = 'put_on'",
    [built.outfit.oxygen.id],
  )
  fullKg = hung?.kg ?? 0
  await read('read', fullKg, built.job.id)
  await atMinute(60)
  await log(5, 50, 0, 2)
  await read('read', fullKg - 3, built.job.id)
  await atMinute(120)
  await log(70, 110, 1, 3)
  await read('read', fullKg - 4, built.job.id)
})

describe('the audit of one job', () => {
  test('adds up what its cylinders lost, with both uncertainties, beside the estimate', async () => {
    const job = await getJobAudit(manager, built.job.id)
    expect(job.oxygen?.usage.mean).toBeCloseTo(4, 6)
    expect(job.oxygen?.usage.standardUncertainty).toBeGreaterThan(0.1)
    const estimate = job.oxygen?.estimate.mean ?? 0
    expect(estimate).toBeGreaterThan(0)
    expect(job.oxygen?.difference.mean).toBeCloseTo(4 - estimate, 6)
    expect(job.oxygen?.ratio.mean).toBeCloseTo(4 / estimate, 6)
    expect(job.fuel).toBeNull() // the fuel was never read on this job
  })

  test('compares with the estimate of what was cut, not of the whole list', async () => {
    const { oxygen, estimate, done } = await getJobAudit(manager, built.job.id)
    expect(done?.oxygen).toBeGreaterThan(0)
    expect(done?.oxygen).toBeLessThan(1)
    expect(done?.unestimatedPieces).toBe(0)
    const whole = estimate?.oxygen_kg ?? 0
    expect(oxygen?.estimate.mean).toBeCloseTo(whole * (done?.oxygen ?? 0), 9)
    const [row] = (await listAudits(manager, ALL)).jobs.filter((job) => job.id === built.job.id)
    expect(row?.done).toEqual(done)
    expect(row?.oxygen).toEqual(oxygen)
  })

  test('sets beside each interval the share of the estimate that was logged in it', async () => {
    const { intervals, oxygen } = await getJobAudit(manager, built.job.id)
    expect(intervals.oxygen.map((one) => one.logNumbers)).toEqual([[], [1], [2]])
    expect(intervals.oxygen.map((one) => one.balance.usage.mean)).toEqual([
      expect.closeTo(0, 6), // between hanging and lighting
      expect.closeTo(3, 6),
      expect.closeTo(1, 6),
    ])
    const shares = intervals.oxygen.map((one) => one.balance.estimate?.mean ?? 0)
    expect(shares.map((share) => share > 0)).toEqual([false, true, true])
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(oxygen?.estimate.mean ?? 0, 9)
  })

  test('takes the last estimate before the first log, not one kept afterwards', async () => {
    const before = (await getJobAudit(manager, built.job.id)).estimate?.estimate_id
    await keepEstimate(viewersOf(built).foreman, { key: uuidv7(), cutListId: built.job.cutListId })
    expect((await getJobAudit(manager, built.job.id)).estimate?.estimate_id).toBe(before)
  })

  test('names every reading that made a number, from the put on at its start', async () => {
    const { readings } = await getJobAudit(auditor, built.job.id)
    const oxygen = readings.filter((one) => one.serial === built.outfit.oxygen.serial)
    expect(oxygen.map((one) => one.kind)).toEqual(['put_on', 'read', 'read', 'read'])
  })

  test('says what each entry put in: gas that adds up to the use, doubt that adds up to its doubt', async () => {
    const { oxygen, entries } = await getJobAudit(auditor, built.job.id)
    const { rows, count, next } = entries.oxygen
    expect(rows.map((one) => one.reading.kind)).toEqual(['put_on', 'read', 'read', 'read'])
    expect(rows.map((one) => one.tookKg)).toEqual([
      null,
      expect.closeTo(0, 6),
      expect.closeTo(3, 6),
      expect.closeTo(1, 6),
    ])
    // Only the first and the last bring doubt in; one between them parts the gas.
    expect(rows.map((one) => one.doubtKg > 0)).toEqual([true, false, false, true])
    const doubt = Math.hypot(...rows.map((one) => one.doubtKg))
    expect(doubt).toBeCloseTo(oxygen?.usage.standardUncertainty ?? Number.NaN, 9)
    expect([count, next]).toEqual([4, null])
    expect(entries.fuel).toEqual({ rows: [], count: 0, next: null })
  })

  test('goes on after the entry named, and from the top after one that is none of them', async () => {
    const whole = (await getJobAudit(auditor, built.job.id)).entries.oxygen.rows
    const goOn = (oxygen: string) => getJobAudit(auditor, built.job.id, { after: { oxygen } })
    const ids = (rows: typeof whole) => rows.map((one) => one.eventId)
    const rest = (await goOn(whole[1]?.eventId ?? '')).entries.oxygen
    expect(ids(rest.rows)).toEqual(ids(whole.slice(2)))
    expect(rest.count).toBe(4)
    for (const none of ['nonsense', uuidv7()])
      expect(ids((await goOn(none)).entries.oxygen.rows)).toEqual(ids(whole))
  })

  test('an entry that was put right later says so, who did it and what it had said', async () => {
    const before = (await getJobAudit(auditor, built.job.id)).entries.oxygen.rows[2]
    await event({
      cylinderId: built.outfit.oxygen.id,
      siteId: built.site.id,
      kind: 'corrected',
      by: manager,
      corrects_id: before?.eventId ?? '',
      gauge_kpa: 9_500,
      temperature_k: 294,
      contents_kg: fullKg - 2.5,
      contents_u_kg: 0.1,
    })
    const { oxygen, entries } = await getJobAudit(auditor, built.job.id)
    const { rows } = entries.oxygen
    expect(rows.map((one) => one.tookKg ?? 0)).toEqual(
      [0, 0, 2.5, 1.5].map((kg) => expect.closeTo(kg, 6)),
    )
    expect(rows[2]?.reading.putRight?.contentsKg).toBeCloseTo(fullKg - 3, 6)
    const [who] = await rowsOf<{ name: string }>('SELECT name FROM people WHERE id = $1', [
      manager.personId,
    ])
    expect(rows[2]?.reading.putRight?.personName).toBe(who?.name)
    expect(rows.filter((one) => one.reading.putRight)).toHaveLength(1)
    expect(oxygen?.usage.mean).toBeCloseTo(4, 6)
  })

  test('reads all readings however few come at once, corrections among them', async () => {
    const whole = await readJobReadings([built.job.id])
    expect(whole.length).toBeGreaterThan(3)
    expect(await readJobReadings([built.job.id], 1)).toEqual(whole)
    expect(await readJobReadings([built.job.id], 2)).toEqual(whole)
  })

  test('is the same whatever other jobs are asked for with it', async () => {
    const other = await buildOpenPermit(testDatabase().owner)
    const alone = await readJobReadings([built.job.id])
    const together = await readJobReadings([built.job.id, other.job.id])
    expect(together.filter((one) => alone.some(({ eventId }) => eventId === one.eventId))).toEqual(
      alone,
    )
  })

  test("answers another site's job, an unknown one and nonsense as not found", async () => {
    await expect(getJobAudit(stranger, built.job.id)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(getJobAudit(manager, uuidv7())).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(getJobAudit(manager, 'nonsense')).rejects.toEqual(refusal('NOT_FOUND'))
  })

  test('is not for those who only cut', async () => {
    await expect(getJobAudit(operator, built.job.id)).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(listAudits(operator, ALL)).rejects.toEqual(refusal('FORBIDDEN'))
  })
})

describe('the list of audits', () => {
  test("holds jobs that were cut at the viewer's sites, and no other site's", async () => {
    const { jobs } = await listAudits(auditor, ALL)
    expect(jobs.map((job) => job.id)).toEqual([built.job.id])
    expect(jobs[0]?.oxygen?.usage.mean).toBeCloseTo(4, 6)
    expect((await listAudits(stranger, ALL)).jobs).toEqual([])
    await expect(listAudits(stranger, { ...ALL, siteId: built.site.id })).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })

  test('leaves out jobs that ended before the period, and pages by a cursor', async () => {
    const bulk = Array.from({ length: 27 }, () => uuidv7())
    await rowsOf(
      `INSERT INTO jobs (id, site_id, number, title, planned_start, planned_end, state, created_by)
       SELECT id, $2, 'B' || n, 'Old', date '2020-01-01' + n::int, date '2020-01-05' + n::int, 'done', $3
       FROM unnest($1::uuid[]) WITH ORDINALITY AS o(id, n)`,
      [bulk, built.site.id, manager.personId],
    )
    await rowsOf('ALTER TABLE permits DISABLE TRIGGER USER')
    const [columns] = await rowsOf<{ names: string }>(
      `SELECT string_agg(quote_ident(column_name), ', ') AS names FROM information_schema.columns
       WHERE table_name = 'permits' AND column_name NOT IN ('id', 'job_id', 'stop_code') AND is_generated = 'NEVER'`,
    )
    await rowsOf(
      `INSERT INTO permits (id, job_id, ${columns?.names})
       SELECT gen_random_uuid(), o.id, ${columns?.names} FROM unnest($1::uuid[]) AS o(id), permits WHERE permits.id = $2`,
      [bulk, built.permit.id],
    )
    await rowsOf('ALTER TABLE permits ENABLE TRIGGER USER')
    expect((await listAudits(auditor, { ...ALL, days: 90 })).jobs.map((job) => job.id)).toEqual([
      built.job.id,
    ])
    const first = await listAudits(auditor, ALL)
    expect(first.jobs).toHaveLength(25)
    const second = await listAudits(auditor, { ...ALL, after: first.next })
    expect(second.jobs).toHaveLength(3)
    expect(second.next).toBeNull()
    const ids = [...first.jobs, ...second.jobs].map((job) => job.id)
    expect(new Set(ids).size).toBe(28)
  })

  test('reads from the top with a cursor that nobody gave out', async () => {
    for (const after of ['x', '2020-01-01~nonsense', "2020-01-01~'; --", `2020-99-99~${uuidv7()}`])
      expect((await listAudits(auditor, { ...ALL, after })).jobs[0]?.id).toBe(built.job.id)
  })
})
