import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { saveSheet } from '@/lib/data/cut-sheets'
import { createJob, getJob } from '@/lib/data/jobs'
import { newJobSchema } from '@/lib/schemas/job'
import { MOST_CUTS, type SheetChanges, saveSheetSchema } from '@/lib/schemas/sheet-save'
import { newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let foreman: Viewer
let watch: Viewer
let stranger: Viewer

const PLATE = { shape: 'plate', thickness: '1', length: '18', count: '6', material: 'carbon_steel' }

const sheet = (cutListId: string, changes: Partial<SheetChanges>, key = uuidv7()) =>
  saveSheetSchema.parse({
    key,
    cutListId,
    changes: JSON.stringify({ units: 'us', rows: [], removed: [], ...changes }),
  })

async function emptyList(number: string) {
  const { id } = await createJob(
    foreman,
    newJobSchema.parse({
      key: uuidv7(),
      number,
      title: 'Take-off',
      siteId,
      crewId: '',
      plannedStart: '2026-04-13',
      plannedEnd: '2026-04-17',
      chancePercent: '80',
      fuel: 'acetylene',
      process: 'hand',
    }),
  )
  const cutListId = (await getJob(foreman, id)).list?.id ?? ''
  return { jobId: id, cutListId, cuts: async () => (await getJob(foreman, id)).list?.cuts ?? [] }
}

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  foreman = await newViewer(siteId, 'foreman')
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'foreman', 'shop_manager')
})

describe('a sheet', () => {
  test('adds, changes and takes off rows in one act, with an entry for each', async () => {
    const list = await emptyList('S001')
    await saveSheet(
      foreman,
      sheet(list.cutListId, {
        rows: [{ cells: PLATE }, { cells: { ...PLATE, title: 'Second', note: 'Zone: B2' } }],
      }),
    )
    const [first, second] = await list.cuts()
    expect([first?.ordinal, second?.ordinal, second?.title]).toEqual([1, 2, 'Second'])
    await saveSheet(
      foreman,
      sheet(list.cutListId, {
        rows: [
          {
            cutId: second?.id ?? '',
            version: 0,
            cells: { shape: 'pipe', thickness: '1/2', width: '10', count: '3', material: 'steel' },
          },
          { cells: { ...PLATE, title: 'Third' } },
        ],
        removed: [{ cutId: first?.id ?? '', version: 0 }],
      }),
    )
    const left = await list.cuts()
    expect(left.map((cut) => [cut.ordinal, cut.title, cut.version])).toEqual([
      [2, '', 1],
      [3, 'Third', 0],
    ])
    expect(left[0]?.dims.shape).toMatchObject({ kind: 'pipe', wallM: expect.closeTo(0.0127, 9) })
    const entries = await rowsOf<{ op: string; act: string }>(
      "SELECT payload::jsonb ->> 'op' AS op, act FROM audit_entries WHERE table_name = 'cuts' AND subject_id = $1 ORDER BY seq",
      [list.cutListId],
    )
    expect(entries.map((entry) => entry.op).sort()).toEqual([
      'DELETE',
      'INSERT',
      'INSERT',
      'INSERT',
      'UPDATE',
    ])
    expect(new Set(entries.map((entry) => entry.act))).toEqual(new Set(['cut-list:sheet']))
  })

  test('twice with one key is one saving', async () => {
    const list = await emptyList('S002')
    const input = sheet(list.cutListId, { rows: [{ cells: PLATE }] })
    expect(await saveSheet(foreman, input)).toEqual(await saveSheet(foreman, input))
    expect(await list.cuts()).toHaveLength(1)
  })

  test('is saved whole or not at all when a row was changed meanwhile', async () => {
    const list = await emptyList('S003')
    await saveSheet(foreman, sheet(list.cutListId, { rows: [{ cells: PLATE }] }))
    const [cut] = await list.cuts()
    const stale = sheet(list.cutListId, {
      rows: [{ cells: PLATE }, { cutId: cut?.id ?? '', version: 7, cells: PLATE }],
    })
    await expect(saveSheet(foreman, stale)).rejects.toEqual(refusal('CONFLICT'))
    expect(await list.cuts()).toHaveLength(1)
  })

  test('reaches no cut of another list', async () => {
    const [mine, other] = [await emptyList('S004'), await emptyList('S005')]
    await saveSheet(foreman, sheet(other.cutListId, { rows: [{ cells: PLATE }] }))
    const [cut] = await other.cuts()
    const named = { cutId: cut?.id ?? '', version: 0 }
    for (const changes of [{ rows: [{ ...named, cells: PLATE }] }, { removed: [named] }]) {
      const tried = saveSheet(foreman, sheet(mine.cutListId, changes))
      await expect(tried).rejects.toEqual(refusal('CONFLICT'))
    }
    expect(await other.cuts()).toMatchObject([{ version: 0 }])
  })

  test('is for who plans at its site', async () => {
    const list = await emptyList('S006')
    const input = sheet(list.cutListId, { rows: [{ cells: PLATE }] })
    await expect(saveSheet(watch, input)).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(saveSheet(stranger, input)).rejects.toEqual(refusal('NOT_FOUND'))
    expect(await list.cuts()).toEqual([])
  })

  test('of the most rows is saved at once, and one row more is refused', async () => {
    const list = await emptyList('S007')
    const rows = Array.from({ length: MOST_CUTS }, (_, at) => ({
      cells: { ...PLATE, title: `Row ${at + 1}` },
    }))
    await saveSheet(foreman, sheet(list.cutListId, { rows }))
    const cuts = await list.cuts()
    expect([cuts.length, cuts.at(-1)?.title]).toEqual([MOST_CUTS, `Row ${MOST_CUTS}`])
    const more = saveSheet(foreman, sheet(list.cutListId, { rows: [{ cells: PLATE }] }))
    await expect(more).rejects.toEqual(refusal('CUT_LIST_FULL'))
  }, 60_000)
})
