import 'server-only'
import { createHash } from 'node:crypto'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import { isXlsx, rowsOfXlsx } from '@/lib/format/xlsx'
import { rowsOfCsv, textOf } from '@/lib/schemas/csv-text'
import { headingsOf } from '@/lib/schemas/fleet-columns'
import { type Catalogue, fleetReader, type ReadRow } from '@/lib/schemas/fleet-rows'
import { db } from './client'
import { once } from './client-keys'
import { readNow } from './cylinders'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const MOST_ROWS = 120_000
const ROWS_A_STATEMENT = 1_000
const NEEDED = ['serial', 'gas', 'size'] as const

async function readCatalogue(siteId: string): Promise<Catalogue> {
  const [sizes, suppliers, areas, site, now] = await Promise.all([
    db.cylinderSize.findMany({ select: { id: true, gasId: true, name: true } }),
    db.supplier.findMany({ select: { id: true, name: true } }),
    db.area.findMany({ where: { siteId }, select: { id: true, name: true } }),
    db.site.findUniqueOrThrow({ where: { id: siteId }, select: { zone: true } }),
    readNow(),
  ])
  return { sizes, suppliers, areas, today: localDay(now, site.zone) }
}

function rowsOfFile(bytes: Uint8Array): string[][] {
  try {
    return isXlsx(bytes) ? rowsOfXlsx(bytes) : rowsOfCsv(textOf(bytes))
  } catch {
    throw new AppError('FILE_NOT_READ')
  }
}

/** Serials that are in the record already, asked for a few at a time. */
async function knownOf(serials: readonly string[]): Promise<Set<string>> {
  const known = new Set<string>()
  for (let from = 0; from < serials.length; from += ROWS_A_STATEMENT) {
    const rows = await db.cylinder.findMany({
      where: { serial: { in: serials.slice(from, from + ROWS_A_STATEMENT) } },
      select: { serial: true },
    })
    for (const row of rows) known.add(row.serial)
  }
  return known
}

async function keepRows(
  tx: Tx,
  importId: string,
  lines: readonly (ReadRow & { line: number })[],
): Promise<void> {
  for (let from = 0; from < lines.length; from += ROWS_A_STATEMENT) {
    const part = lines.slice(from, from + ROWS_A_STATEMENT)
    await tx.$executeRaw`
      INSERT INTO fleet_import_rows (import_id, line, data, faults)
      SELECT ${importId}::uuid, (x ->> 'line')::int, nullif(x -> 'row', 'null'::jsonb), x -> 'faults'
      FROM jsonb_array_elements(${JSON.stringify(part)}::jsonb) AS x`
  }
}

export type FleetFile = Readonly<{
  key: string
  siteId: string
  fileName: string
  bytes: Uint8Array
}>

/** Keeps what a file says, every row and every wrong cell; takes nothing in yet. */
export async function keepFleetFile(
  viewer: Viewer,
  { key, siteId, fileName, bytes }: FleetFile,
): Promise<{ importId: string }> {
  const role = roleThen(viewer, 'cylinder:receive', siteId)
  const catalogue = await readCatalogue(siteId)
  const [head = [], ...rows] = rowsOfFile(bytes)
  const headings = headingsOf(head)
  const missing = NEEDED.filter((column) => !headings.some((one) => one.column === column))
  if (missing.length > 0) throw new AppError('COLUMNS_MISSING', { columns: missing.join(', ') })
  if (rows.length > MOST_ROWS) throw new AppError('TOO_MANY_ROWS', { limit: MOST_ROWS })
  const read = fleetReader(headings, catalogue, rows)
  const lines = rows
    .map((cells, i) => ({ cells, line: i + 2 }))
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''))
    .map(({ cells, line }) => ({ line, ...read(cells, line) }))
  if (lines.length === 0) throw new AppError('FILE_EMPTY')
  const known = await knownOf(lines.flatMap(({ row }) => (row ? [row.serial] : [])))
  const judged = lines.map((one) =>
    one.row && known.has(one.row.serial)
      ? {
          line: one.line,
          row: null,
          faults: [{ column: 'serial' as const, code: 'CELL_KNOWN', value: one.row.serial }],
        }
      : one,
  )
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const input = { siteId, fileName, sha256 }
  return inTransaction(viewer, 'fleet:import', (tx) =>
    once(tx, viewer, { key, action: 'fleet:import', input }, async () => {
      const importId = uuidv7()
      await tx.fleetImport.create({
        data: {
          id: importId,
          ...input,
          rows: judged.length,
          faulty: judged.filter(({ row }) => !row).length,
          headings: headings.map(({ column }) => column),
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      await keepRows(tx, importId, judged)
      return { importId }
    }),
  )
}
