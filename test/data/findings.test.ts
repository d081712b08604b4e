import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import { verifyRecords } from '@/bin/lib/verify.mjs'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { periodBalance } from '@/lib/calc/site-balance'
import { db } from '@/lib/data/client'
import { getCompanyAudit, getWholeCompanyAudit } from '@/lib/data/company-audit'
import { pageOfCrews } from '@/lib/data/company-crews'
import { pageOfUnaccounted } from '@/lib/data/company-unaccounted'
import { decideFinding, lookAgain } from '@/lib/data/findings/decide'
import { getFinding, listFindings, listFindingsOfJob } from '@/lib/data/findings/list'
import { askForLook, lookWhereAsked } from '@/lib/data/findings/run'
import { getJobAudit, listAudits } from '@/lib/data/gas-audit'
import type { AuditEntry, EntriesPage } from '@/lib/data/gas-audit-entries'
import { decideFindingSchema, weeksSchema } from '@/lib/schemas/finding'
import type { Planted, PlantedKind } from '../../seed/demo/world'
import { seedDemo } from '../../seed/run'
import { testDatabase } from '../setup/database'
import { refusal, rowsOf } from './gas-world'

const CAUSE_OF = {
  unlogged_swap: 'swap_not_logged',
  slow_leak: 'leak_idle',
  mistyped_reading: 'reading_mistyped',
} as const satisfies Partial<Record<PlantedKind, string>>
type Hidden = keyof typeof CAUSE_OF

let planted: readonly Planted[] = []
let auditor: Viewer
let manager: Viewer
let foreman: Viewer

async function viewerAt(siteIds: readonly string[], role: Role): Promise<Viewer> {
  const [person] = await rowsOf<{ id: string }>(
    'SELECT person_id AS id FROM grants WHERE role = $1 AND revoked_at IS NULL ORDER BY id LIMIT 1',
    [role],
  )
  return {
    personId: person?.id ?? '',
    name: 'Person',
    grants: siteIds.map((siteId) => ({ siteId, role })),
    roles: [role],
    units: 'us',
    clock: '24',
    theme: 'device',
  }
}

const open = () => listFindings(auditor, { site: null, show: 'open' })
const look = async () => {
  await askForLook(db, null)
  return lookWhereAsked()
}

beforeAll(async () => {
  planted = (await seedDemo(testDatabase().ownerUrl))?.planted ?? []
  const sites = await rowsOf<{ id: string }>('SELECT id FROM sites ORDER BY id')
  const siteIds = sites.map((site) => site.id)
  auditor = await viewerAt(siteIds, 'auditor')
  manager = await viewerAt(siteIds, 'shop_manager')
  foreman = await viewerAt(siteIds.slice(0, 1), 'foreman')
  await look()
}, 240_000)

const hiddenOnes = () =>
  planted.filter((fault): fault is Planted & { kind: Hidden } => fault.kind in CAUSE_OF)

/** The finding in whose best set this fault stands, and the place of the cause in it. */
async function findingOf(fault: Planted & { kind: Hidden }) {
  const { findings } = await open()
  const isIt = (cause: (typeof findings)[number]['causes'][number]) =>
    cause.isEqualFirst && cause.kind === CAUSE_OF[fault.kind]
  const serialsOf = await rowsOf<{ id: string; serial: string }>('SELECT id, serial FROM cylinders')
  const wanted = serialsOf.filter((one) => fault.serials?.includes(one.serial)).map((one) => one.id)
  for (const finding of findings) {
    const place = finding.causes.findIndex(
      (cause) => isIt(cause) && cause.cylinderIds.some((id) => wanted.includes(id)),
    )
    if (place >= 0) return { finding, place }
  }
  throw new Error(`${fault.kind} was not found`)
}

describe('the demo company', () => {
  test('hides two swaps, a leak and a mistyped reading, and each stands in the best set', async () => {
    expect(
      hiddenOnes()
        .map((fault) => fault.kind)
        .sort(),
    ).toEqual(['mistyped_reading', 'slow_leak', 'unlogged_swap', 'unlogged_swap'])
    for (const fault of hiddenOnes()) {
      const { finding, place } = await findingOf(fault)
      expect(finding.chance, fault.kind).toBeLessThan(1e-6)
      expect(finding.causes[place]?.probability, fault.kind).toBeGreaterThan(0.2)
    }
  })

  test('shows the leak before anything that only costs money', async () => {
    const { findings } = await open()
    expect(findings[0]?.causes[0]?.kind).toBe('leak_idle')
    const dangers = findings.map((finding) => finding.danger)
    expect(dangers).toEqual([...dangers].sort((a, b) => b - a))
  })

  test('goes on after a finding that was named, tells how many wait in all, and keeps to a job', async () => {
    const { findings, next, waiting } = await open()
    expect(next).toBeNull()
    expect(waiting).toEqual({
      count: findings.length,
      leaks: findings.filter((one) => one.danger > 0).length,
    })
    const ids = findings.map((one) => one.id)
    const second = findings[1]
    const after = `${second?.danger}~${second?.costMinor ?? -1}~${second?.id}`
    const rest = await listFindings(auditor, { site: null, show: 'open' }, after)
    expect(rest.findings.map((one) => one.id)).toEqual(ids.slice(2))
    expect(rest.waiting).toEqual(waiting)
    for (const none of ['nonsense', '1~x~y', `9999999~1~${second?.id}`])
      expect(
        (await listFindings(auditor, { site: null, show: 'open' }, none)).findings.map(
          (one) => one.id,
        ),
      ).toEqual(ids)
    const withJob = findings.find((one) => one.jobs.length > 0)
    const job = { id: withJob?.jobs[0]?.id ?? '', siteId: withJob?.siteId ?? '' }
    const ofJob = (await listFindingsOfJob(auditor, job)).findings.map((one) => one.id)
    expect(ofJob).toContain(withJob?.id)
    expect([...ofJob].sort()).toEqual(
      findings
        .filter((one) => one.jobs.some(({ id }) => id === job.id))
        .map((one) => one.id)
        .sort(),
    )
    await expect(listFindingsOfJob(foreman, { ...job, siteId: uuidv7() })).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })

  test('a finding opens to every reading it rests on, the mistyped one among them', async () => {
    const typed = hiddenOnes().find((fault) => fault.kind === 'mistyped_reading')
    const { finding } = await findingOf(typed!)
    const { readings } = await getFinding(auditor, finding.id)
    const named = readings.filter((reading) => reading.isNamed)
    expect(named.map((reading) => reading.at.getTime())).toEqual([typed?.atMs])
    expect(readings.length).toBeGreaterThan(1)
  })

  test.each(['oxygen', 'fuel'] as const)(
    'puts jobs in the order of how far they are off in %s, page by page, as their own accounts say',
    async (side) => {
      const shown = []
      let after: string | null = null
      do {
        const page: Awaited<ReturnType<typeof listAudits>> = await listAudits(auditor, {
          siteId: null,
          days: null,
          after,
          order: 'off',
          side,
        })
        shown.push(...page.jobs)
        after = page.next
      } while (after)
      expect(shown.length).toBeGreaterThan(5)
      expect(new Set(shown.map((job) => job.id)).size).toBe(shown.length)
      const distances = shown.map((job) => Math.abs(job.deviations[side] ?? Number.NaN))
      expect(distances).toEqual([...distances].sort((a, b) => b - a))
      // The job's own page and the look through the whole record count the same use.
      for (const job of shown) {
        const [kept] = await rowsOf<{ usage_kg: number }>(
          'SELECT usage_kg FROM job_figures WHERE job_id = $1 AND side = $2',
          [job.id, side],
        )
        expect(kept?.usage_kg, job.number).toBeCloseTo(job[side]?.usage.mean ?? Number.NaN, 9)
      }
      // A crew's factor is allowed for in both gases: an estimate multiplies both by it.
      const allowed = await Promise.all(shown.map((job) => getJobAudit(auditor, job.id)))
      const known = allowed.filter((job) => job.crewFactor !== null && job[side])
      expect(known.length).toBeGreaterThan(0)
      for (const { crewFactor, deviations, ...job } of known) {
        const { usage, estimate } = job[side]!
        const left = usage.mean - (crewFactor?.mean ?? 0) * estimate.mean
        expect(Math.sign(deviations[side] ?? 0), job.number).toBe(Math.sign(left))
      }
    },
  )

  test('shows how each crew’s factor came about, and what unaccounted gas costs', async () => {
    const whole = await getWholeCompanyAudit(auditor, { siteId: null, days: null })
    const { company, rows: crews } = whole.crews
    expect(company?.mean).toBeGreaterThan(0.5)
    expect(crews.length).toBeGreaterThan(2)
    for (const { own, credibility, siteFactor, mean, low90, high90 } of crews) {
      // F = Z X + (1 − Z) m, Bühlmann & Straub.
      const drawn = (credibility ?? 0) * (own ?? 0) + (1 - (credibility ?? 0)) * (siteFactor ?? 0)
      expect(mean).toBeCloseTo(drawn, 9)
      expect(low90).toBeLessThan(mean)
      expect(high90).toBeGreaterThan(mean)
    }
    expect(await getCompanyAudit(auditor, { siteId: null, days: null })).toEqual(whole)
    const own = await getCompanyAudit(foreman, { siteId: null, days: null })
    expect(own.crews.rows.length).toBeLessThan(crews.length)
    const foreign = auditor.grants[1]?.siteId ?? ''
    await expect(getCompanyAudit(foreman, { siteId: foreign, days: null })).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
  })

  test.each([null, 90])(
    'sums up in the database what each site’s weeks of %s days say, the dearest first',
    async (days) => {
      const { unaccounted } = await getWholeCompanyAudit(auditor, { siteId: null, days })
      const kept = await rowsOf<{ site_id: string; gas_id: string; weeks: unknown }>(
        `SELECT site_id, gas_id, weeks FROM site_balances
       WHERE run_id = (SELECT id FROM audit_runs WHERE finished_at IS NOT NULL ORDER BY finished_at DESC LIMIT 1)`,
      )
      const [clock] = await rowsOf<{ now: Date }>('SELECT kerf_now() AS now')
      const since = days === null ? 0 : (clock?.now.getTime() ?? 0) - days * 86_400_000
      const wanted = kept.flatMap((row) => {
        const weeks = weeksSchema.parse(row.weeks).filter((week) => week.fromMs >= since)
        return weeks.length > 0 ? [{ ...row, balance: periodBalance(weeks) }] : []
      })
      expect(unaccounted.rows).toHaveLength(wanted.length)
      expect(wanted.length).toBeGreaterThan(2)
      for (const { site_id, gas_id, balance } of wanted) {
        const row = unaccounted.rows.find((one) => one.siteId === site_id && one.gas === gas_id)
        for (const key of ['kg', 'low90Kg', 'high90Kg'] as const)
          expect(row?.unexplained[key], gas_id).toBeCloseTo(balance.unexplained[key], 9)
      }
      const costs = unaccounted.rows.map((one) => one.cost?.minor ?? Number.NEGATIVE_INFINITY)
      expect(costs).toEqual([...costs].sort((a, b) => b - a))
      const priced = unaccounted.rows.flatMap((one) => one.cost ?? [])
      expect(unaccounted.total?.minor).toBeCloseTo(
        priced.reduce((sum, one) => sum + one.minor, 0),
        6,
      )
      const halves = priced.map((one) => one.high90Minor - one.minor)
      const { minor = 0, high90Minor = 0 } = unaccounted.total ?? {}
      expect(high90Minor - minor).toBeCloseTo(Math.hypot(...halves), 6)
    },
  )

  test('hands out crews and unaccounted gas page by page, each row once, in one order', async () => {
    const siteIds = auditor.grants.map((grant) => grant.siteId)
    const whole = await getWholeCompanyAudit(auditor, { siteId: null, days: null })
    const pagesOf = async <T>(
      read: (after: string | null) => Promise<{ rows: readonly T[]; next: string | null }>,
    ) => {
      const rows: T[] = []
      for (let after: string | null | undefined; after !== null; ) {
        const page = await read(after ?? null)
        expect(page.rows.length).toBeLessThanOrEqual(2)
        rows.push(...page.rows)
        after = page.next
      }
      return rows
    }
    expect(await pagesOf((after) => pageOfCrews({ siteIds, after, most: 2 }))).toEqual(
      whole.crews.rows,
    )
    const unaccounted = (after: string | null) =>
      pageOfUnaccounted({ siteIds, days: null, after, most: 2 })
    expect(await pagesOf(unaccounted)).toEqual(whole.unaccounted.rows)
    // The total is that of all pages, on each of them; a cursor that nobody gave out reads from the top.
    const [first, none] = [await unaccounted(null), await unaccounted('x~y')]
    expect(first.total).toEqual(whole.unaccounted.total)
    expect(none).toEqual(first)
    expect((await unaccounted(first.next)).total).toEqual(first.total)
  })

  test('looking again at the same record finds the same and writes nothing new', async () => {
    const count = () => rowsOf<{ n: string }>('SELECT count(*) AS n FROM findings')
    const [before, shown] = [await count(), await open()]
    expect(await look()).toBe('done')
    expect(await lookWhereAsked()).toBe('nothing asked')
    expect(await count()).toEqual(before)
    const ids = ({ findings }: typeof shown) => findings.map((finding) => finding.id)
    expect(ids(await open())).toEqual(ids(shown))
    expect((await open()).look).toMatchObject({ progress: null, isFailed: false })
  })
})

const decidable = async () => {
  const of = async (viewer: Viewer) =>
    (await listFindings(viewer, { site: null, show: 'open' })).findings.every(
      (one) => one.mayDecide,
    )
  return { manager: await of(manager), auditor: await of(auditor) }
}

describe('a decision', () => {
  const decide = (over: Record<string, unknown>) =>
    decideFindingSchema.parse({ key: uuidv7(), decision: 'accepted', note: 'Read both', ...over })

  test('to accept a swap that nobody logged adds its gas to the job, the record verifies', async () => {
    const swap = hiddenOnes().find((fault) => fault.kind === 'unlogged_swap')
    const [job] = await rowsOf<{ id: string }>('SELECT id FROM jobs WHERE number = $1', [
      swap?.jobNumber,
    ])
    const before = (await getJobAudit(auditor, job?.id ?? '')).oxygen
    const { finding, place } = await findingOf(swap!)
    const input = decide({ findingId: finding.id, hypothesis: place })
    const decided = await decideFinding(manager, input)
    expect(await decideFinding(manager, input)).toEqual(decided)
    const after = (await getJobAudit(auditor, job?.id ?? '')).oxygen
    const added = (after?.usage.mean ?? 0) - (before?.usage.mean ?? 0)
    // Nearly one whole cylinder of 244 ft³, 9.16 kg, above its heel.
    expect(added).toBeGreaterThan(7.5)
    expect(added).toBeLessThan(9.2)
    // The entry that the swap hides behind says so, with who accepted it; all entries still add up.
    const rows: AuditEntry[] = []
    let next: string | null = ''
    while (next !== null) {
      const page: EntriesPage = (
        await getJobAudit(auditor, job?.id ?? '', { after: { oxygen: next } })
      ).entries.oxygen
      rows.push(...page.rows)
      next = page.next
      expect(page.count).toBeGreaterThanOrEqual(rows.length)
    }
    const marks = rows.flatMap((one) => one.accepted)
    expect(marks).toMatchObject([{ kind: 'swap_not_logged', findingId: finding.id }])
    // The reading after it may be tied to it, since contents never rise: then they differ by less than it is unsure.
    expect(Math.abs((marks[0]?.kg ?? 0) - added)).toBeLessThan(0.25)
    const took = rows.reduce((sum, one) => sum + (one.tookKg ?? 0), 0)
    expect(took).toBeCloseTo(after?.usage.mean ?? Number.NaN, 9)
    expect(rows.some((one) => one.swappedWith !== null)).toBe(true)
    // What was read stays as it was read: no cylinder of 244 ft³ holds more than it can.
    for (const one of rows) expect(one.heldKg).toBeLessThan(10)
    expect(rows.some((one) => one.reading.gasKg > 10)).toBe(true)
    const [entry] = await rowsOf<{ payload: string }>(
      "SELECT payload FROM audit_entries WHERE table_name = 'finding_decisions' AND subject_id = $1",
      [finding.id],
    )
    const row = JSON.parse(entry?.payload ?? '{}').row
    expect(row).toMatchObject({ id: decided.id, decision: 'accepted' })
    expect(row.evidence.length).toBeGreaterThan(0)
    const verdict = await verifyRecords(testDatabase().ownerUrl)
    expect(verdict.ok).toBe(true)
    await look()
    expect((await open()).findings.map((one) => one.id)).not.toContain(finding.id)
    const { findings } = await listFindings(auditor, { site: null, show: 'decided' })
    const [newest] = findings
    const later = await listFindings(
      auditor,
      { site: null, show: 'decided' },
      `${newest?.standing?.at.toISOString()}~${newest?.id}`,
    )
    expect(later.findings.map((one) => one.id)).toEqual(findings.slice(1).map((one) => one.id))
    expect(findings.map((one) => [one.id, one.standing?.decision])).toContainEqual([
      finding.id,
      'accepted',
    ])
  })

  test('holds until it is withdrawn; then the numbers are as before', async () => {
    const typed = hiddenOnes().find((fault) => fault.kind === 'mistyped_reading')
    const { finding, place } = await findingOf(typed!)
    const accept = () =>
      decideFinding(manager, decide({ findingId: finding.id, hypothesis: place }))
    await accept()
    await expect(accept()).rejects.toEqual(refusal('FINDING_ACCEPTED'))
    await decideFinding(manager, decide({ findingId: finding.id, decision: 'withdrawn' }))
    const again = decideFinding(manager, decide({ findingId: finding.id, decision: 'withdrawn' }))
    await expect(again).rejects.toEqual(refusal('FINDING_NOT_ACCEPTED'))
    const history = (await getFinding(auditor, finding.id)).history.map((one) => one.decision)
    expect(history).toEqual(['accepted', 'withdrawn'])
  })

  test('takes a cause that was proposed, a note, and somebody who may: an auditor only reads', async () => {
    const mine = await decidable()
    expect(mine).toEqual({ manager: true, auditor: false })
    const { findings } = await open()
    const [finding] = findings
    const findingId = finding?.id ?? ''
    await expect(decideFinding(manager, decide({ findingId, hypothesis: 40 }))).rejects.toEqual(
      refusal('CAUSE_UNKNOWN'),
    )
    expect(
      decideFindingSchema.safeParse({ key: uuidv7(), findingId, decision: 'rejected' }).success,
    ).toBe(false)
    const local = findings.find((one) => one.siteId === foreman.grants[0]?.siteId)
    const foreign = findings.find((one) => one.siteId !== foreman.grants[0]?.siteId)
    if (local)
      await expect(
        decideFinding(foreman, decide({ findingId: local.id, hypothesis: 0 })),
      ).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(
      decideFinding(foreman, decide({ findingId: foreign?.id, hypothesis: 0 })),
    ).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(
      lookAgain(foreman, { key: uuidv7(), siteId: foreman.grants[0]?.siteId ?? '' }),
    ).rejects.toEqual(refusal('FORBIDDEN'))
  })

  test('the database refuses a correction that points at nothing', async () => {
    const { findings } = await open()
    const finding = findings[0]
    const kind = finding?.causes[0]?.kind
    const insert = (correction: unknown, evidence: string[]) =>
      testDatabase().owner.query(
        `INSERT INTO finding_decisions (id, finding_id, site_id, person_id, role_then, decision, hypothesis, note, correction, evidence)
         VALUES ($1, $2, $3, $4, 'auditor', 'accepted', 0, 'x', $5, $6)`,
        [
          uuidv7(),
          finding?.id,
          finding?.siteId,
          auditor.personId,
          JSON.stringify(correction),
          evidence,
        ],
      )
    const real = finding?.causes[0]?.readingIds[0] ?? ''
    await expect(insert({ kind }, [])).rejects.toThrow(/finding_decisions_evidence/)
    await expect(insert({ kind }, [uuidv7()])).rejects.toThrow(/EVIDENCE_UNKNOWN/)
    const moved = { kind, readings: [{ eventId: uuidv7(), contentsKg: 1 }] }
    await expect(insert(moved, [real])).rejects.toThrow(/EVIDENCE_UNKNOWN/)
    await expect(insert({ kind: 'boil_off' }, [real])).rejects.toThrow(/CAUSE_UNKNOWN/)
  })
})
