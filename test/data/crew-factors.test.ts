import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { saveCut, updateCutList } from '@/lib/data/cut-lists'
import { keepEstimate } from '@/lib/data/estimates-kept'
import { openCut } from '@/lib/data/estimates-terms'
import { readJobEstimates } from '@/lib/data/gas-audit-rows'
import { createJob, getJob } from '@/lib/data/jobs'
import { cutSchema } from '@/lib/schemas/cut'
import { cutListSettingsSchema, newJobSchema } from '@/lib/schemas/job'
import { insert, newSite, newViewer, rowsOf, setCompany } from './gas-world'

let siteId: string
let foreman: Viewer
const crewId = uuidv7()
let jobId: string

/** Coped, overhead, cold and galvanized: a cut with all that a plate has not. */
const beam = (cutListId: string) =>
  cutSchema.parse({
    key: uuidv7(),
    cutListId,
    shape: 'w_shape',
    designation: 'W16x31',
    task: 'cope',
    along: '6',
    alongUnit: 'in',
    into: '2',
    intoUnit: 'in',
    count: '6',
    material: 'carbon_steel',
    coating: 'zinc',
    position: 'overhead',
    cold: 'yes',
  })

const learned = (factors: object) =>
  insert('crew_factors', { id: uuidv7(), jobs: 12, factors: { json: factors } })
const factor = (mean: number, jobs: number) => ({ mean, u: 0.07, jobs })

async function estimate() {
  const job = await getJob(foreman, jobId)
  const cut = job.list?.cuts[0]
  const found = job.list?.estimate
  if (!cut || !found?.result) throw new Error('the list gives no number')
  return { crew: found.crew, result: found.result, opened: openCut(cut, found, job.tips) }
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  foreman = await newViewer(siteId, 'foreman')
  await insert('crews', { id: crewId, site_id: siteId, name: 'Day crew' })
  const planned = newJobSchema.parse({
    key: uuidv7(),
    number: '2001',
    title: 'Hangers',
    siteId,
    crewId,
    plannedStart: '2026-04-13',
    plannedEnd: '2026-04-17',
    chancePercent: '80',
    fuel: 'acetylene',
    process: 'hand',
  })
  jobId = (await createJob(foreman, planned)).id
  await saveCut(foreman, beam((await getJob(foreman, jobId)).list?.id ?? ''))
})

describe('an estimate', () => {
  test('stands by the table while nothing is learned of any crew', async () => {
    expect((await estimate()).crew).toBeNull()
  })

  test('goes by all crews where its own has no record, by its own once it has one', async () => {
    const byTable = (await estimate()).result.fuelGas.mean
    await learned({ company: factor(1.2, 30), crews: {} })
    const byFleet = await estimate()
    expect(byFleet.crew).toMatchObject({ mean: 1.2, jobs: 30, isOwn: false })
    expect(byFleet.result.fuelGas.mean / byTable).toBeCloseTo(1.2, 6)
    await learned({
      company: factor(1.2, 30),
      crews: { [`${siteId} ${crewId}`]: factor(1.3, 6) },
    })
    const byOwn = await estimate()
    expect(byOwn.crew).toMatchObject({ mean: 1.3, jobs: 6, isOwn: true })
    expect(byOwn.result.fuelGas.mean / byTable).toBeCloseTo(1.3, 6)
  })

  test('opens to terms and steps that add up to it: position, cold steel, then the crew', async () => {
    const { opened } = await estimate()
    for (const gas of [opened?.oxygen, opened?.fuel]) {
      const all = [...(gas?.terms ?? []), ...(gas?.steps ?? [])]
      expect(gas?.steps.map(({ code, multiplier }) => [code, multiplier])).toEqual([
        ['overhead', 1.3],
        ['cold', 1.1],
        ['crew', 1.3],
      ])
      for (const { kg } of all) expect(kg).toBeGreaterThan(0)
      const sum = all.reduce((kg, term) => kg + term.kg, 0)
      expect(sum / (gas?.meanKg ?? 1)).toBeCloseTo(1, 6)
    }
  })

  test('goes by purity, changed judgement and own fuel flow of its list, each said where it opens', async () => {
    const before = await estimate()
    const { list } = await getJob(foreman, jobId)
    const cutListId = list?.id ?? ''
    const typed = (over: Record<string, string>) =>
      cutListSettingsSchema.parse({
        key: uuidv7(),
        cutListId,
        version: String(list?.version ?? 0),
        process: 'hand',
        ...over,
      })
    await updateCutList(
      foreman,
      typed({
        fuel: 'propylene',
        purity: '98.5',
        'judged-overhead': '1.5',
        'judged-cold': '1.1',
        fuelLow: '8',
        fuelLowUnit: 'ft3/h',
        fuelHigh: '16',
        fuelHighUnit: 'ft3/h',
      }),
    )
    const after = await estimate()
    expect(after.result.fuel).toBe('propylene')
    expect(after.result.oxygen.mean).toBeGreaterThan(before.result.oxygen.mean)
    expect(
      after.opened?.oxygen.steps.map(({ code, multiplier, usual }) => [code, multiplier, usual]),
    ).toEqual([
      ['overhead', 1.5, 1.3],
      ['cold', 1.1, null],
      ['purity', 98.5, null],
      ['crew', 1.3, null],
    ])
    const sum = [...(after.opened?.oxygen.terms ?? []), ...(after.opened?.oxygen.steps ?? [])]
    const meanKg = after.opened?.oxygen.meanKg ?? 1
    expect(sum.reduce((kg, term) => kg + term.kg, 0) / meanKg).toBeCloseTo(1, 6)
    const again = (await getJob(foreman, jobId)).list
    expect(again?.settings.judgements).toEqual({ overhead: 1.5 })
    await updateCutList(foreman, {
      ...typed({ fuel: 'acetylene' }),
      version: again?.version ?? 0,
    })
    expect((await estimate()).result.oxygen.mean).toBeCloseTo(before.result.oxygen.mean, 6)
  })

  test('is kept with the factor that it went by, so that the crew is never learned from twice', async () => {
    const cutListId = (await getJob(foreman, jobId)).list?.id ?? ''
    await keepEstimate(foreman, { key: uuidv7(), cutListId })
    const [kept] = await readJobEstimates([jobId])
    expect(kept?.crew_factor).toBe(1.3)
    const [row] = await rowsOf<{ cut: object }>(
      "SELECT inputs -> 'cuts' -> 0 AS cut FROM estimates WHERE job_id = $1",
      [jobId],
    )
    expect(row?.cut).toMatchObject({
      coating: 'zinc',
      conditions: ['cold'],
      task: { kind: 'cope', depthM: 0.0508 },
    })
  })
})

test('the database keeps no cut of a shape that nobody knows', async () => {
  await expect(rowsOf("UPDATE cuts SET shape = 'blob'")).rejects.toThrow(/cuts_shape/)
})
