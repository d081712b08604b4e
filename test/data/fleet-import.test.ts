import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getFleetImport, takeImportBatch } from '@/lib/data/fleet-import'
import { keepFleetFile } from '@/lib/data/fleet-import-file'
import { workbookOf } from '@/lib/format/workbook'
import { withSpool } from '@/lib/spool'
import { testDatabase } from '../setup/database'
import { newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let yard: Viewer
let watch: Viewer
let stranger: Viewer

const HEAD = ['Serial', 'Gas', 'Size', 'Owned', 'Status', 'Hydro due']
const fleet = (tag: string, count: number) =>
  Array.from({ length: count }, (_, i) => [
    `${tag}-${1000 + i}`,
    'O2',
    '244',
    'owned',
    'full',
    '2031-05',
  ])
const csv = (rows: readonly (readonly string[])[]) =>
  new TextEncoder().encode(rows.map((row) => row.join(',')).join('\n'))
const keep = (bytes: Uint8Array, by = yard) =>
  withSpool([bytes], 10_000_000, (file) =>
    keepFleetFile(by, { key: uuidv7(), siteId, fileName: 'fleet.csv', file }),
  )
const next = (importId: string, by = yard) => takeImportBatch(by, { key: uuidv7(), importId })
const countOf = async (tag: string) =>
  (
    await rowsOf<{ n: number }>(
      `SELECT count(*)::int AS n FROM cylinders c JOIN cylinder_events e ON e.cylinder_id = c.id AND e.kind = 'bought'
       WHERE c.serial LIKE $1 AND c.status = 'full' AND c.site_id = $2`,
      [`${tag}-%`, siteId],
    )
  )[0]?.n

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  yard = await newViewer(siteId, 'yard_hand')
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'yard_hand')
})

describe('a starting fleet from a spreadsheet', () => {
  test('is kept with every wrong cell named, then taken in by batches until nothing is left', async () => {
    const rows = fleet('AA', 900)
    rows[3]![2] = '999'
    rows[7]![0] = 'AA-1000'
    const { importId } = await keep(csv([HEAD, ...rows]))
    const seen = await getFleetImport(yard, importId, 0)
    expect(seen).toMatchObject({ rows: 900, faulty: 2, good: 898, left: 898, taken: 0 })
    expect(seen.faults).toEqual([
      { line: 5, faults: [{ column: 'size', code: 'CELL_UNKNOWN', value: '999' }] },
      { line: 9, faults: [{ column: 'serial', code: 'CELL_TWICE', value: 'AA-1000 (2)' }] },
    ])
    expect(await countOf('AA')).toBe(0)
    expect(await next(importId)).toEqual({ taken: 400, known: 0, left: 498 })
    expect(await next(importId)).toEqual({ taken: 400, known: 0, left: 98 })
    expect(await next(importId)).toEqual({ taken: 98, known: 0, left: 0 })
    expect(await next(importId)).toEqual({ taken: 0, known: 0, left: 0 })
    expect(await countOf('AA')).toBe(898)
  })

  test('comes from a workbook as well, and the same file again finds all of it known', async () => {
    const bytes = await workbookOf([{ name: 'Fleet', head: HEAD, rows: fleet('BB', 5) }])
    const { importId } = await keep(bytes)
    expect(await next(importId)).toMatchObject({ taken: 5, left: 0 })
    const again = await keep(bytes)
    const seen = await getFleetImport(yard, again.importId, 0)
    expect(seen.faults.map((row) => row.faults[0]?.code)).toEqual(Array(5).fill('CELL_KNOWN'))
  })

  test('by two people at once takes no row twice', async () => {
    const { importId } = await keep(csv([HEAD, ...fleet('CC', 1200)]))
    await Promise.all([next(importId), next(importId), next(importId)])
    expect(await countOf('CC')).toBe(1200)
    expect(await getFleetImport(yard, importId, 0)).toMatchObject({ taken: 1200, left: 0 })
  })

  test('broken off in the middle of a batch leaves none of it, and goes on from there', async () => {
    const { importId } = await keep(csv([HEAD, ...fleet('DD', 600)]))
    await next(importId)
    const { owner } = testDatabase()
    // The session of the batch is ended by the server while its rows are being written.
    const going = next(importId)
    const kill = async () => {
      for (let i = 0; i < 400; i += 1) {
        const { rowCount } = await owner.query(
          `SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()
             AND state <> 'idle' AND query ILIKE '%cylinder_events%' AND usename = 'kerfwatch_runtime'`,
        )
        if (rowCount) return true
        await new Promise((resolve) => setTimeout(resolve, 1))
      }
      return false
    }
    const [ended, killed] = await Promise.allSettled([going, kill()])
    const count = await countOf('DD')
    expect(killed.status).toBe('fulfilled')
    // All of the batch or none: acknowledged means there, refused means not.
    expect(count).toBe(ended.status === 'fulfilled' ? 600 : 400)
    if (ended.status === 'rejected') expect(await next(importId)).toMatchObject({ taken: 200 })
    expect(await countOf('DD')).toBe(600)
  })

  test('is refused without its columns, to a fire watch, and to another site', async () => {
    await expect(
      keep(
        csv([
          ['Serial', 'Gas'],
          ['A', 'O2'],
        ]),
      ),
    ).rejects.toMatchObject({
      code: 'COLUMNS_MISSING',
      params: { columns: 'size' },
    })
    await expect(keep(new Uint8Array([0x50, 0x4b, 1, 2]))).rejects.toEqual(refusal('FILE_NOT_READ'))
    await expect(keep(csv([HEAD]))).rejects.toEqual(refusal('FILE_EMPTY'))
    await expect(keep(csv([HEAD, ...fleet('EE', 1)]), watch)).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(keep(csv([HEAD, ...fleet('EE', 1)]), stranger)).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    const { importId } = await keep(csv([HEAD, ...fleet('FF', 1)]))
    await expect(getFleetImport(stranger, importId, 0)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(next(importId, stranger)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(next(importId, watch)).rejects.toEqual(refusal('FORBIDDEN'))
  })
})
