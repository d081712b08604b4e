import 'server-only'
import { deflateRawSync, inflateRawSync } from 'node:zlib'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { rowsOfCsvFile } from '@/lib/format/csv-rows'
import { localDay } from '@/lib/format/local-time'
import { isXlsx, rowsOfXlsx } from '@/lib/format/xlsx'
import { type Heading, headingsOf } from '@/lib/schemas/fleet-columns'
import { type Catalogue, dayOrdersOf, fleetReader, type ReadRow } from '@/lib/schemas/fleet-rows'
import type { Spool } from '@/lib/spool'
import { db } from './client'
import { once } from './client-keys'
import { readNow } from './cylinders'
import { roleThen } from './role-then'
import { inTransaction, LONG_LIMITS, type Tx } from './tx'

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

/** Each row of a file, a workbook or text, while it is read. */
async function* rowsOfFile(file: Spool): AsyncGenerator<string[]> {
  try {
    if (await isWorkbook(file)) yield* rowsOfXlsx(file.open)
    else yield* rowsOfCsvFile(file.open())
  } catch (error) {
    throw error instanceof AppError ? error : new AppError('FILE_NOT_READ')
  }
}

async function isWorkbook(file: Spool): Promise<boolean> {
  for await (const piece of file.open()) return isXlsx(piece)
  return false
}

/** What the whole file tells before any row can be judged: its columns, and how it writes dates. */
async function readFrame(file: Spool) {
  let headings: Heading[] | null = null
  let dates = dayOrdersOf([])
  let rows = 0
  for await (const cells of rowsOfFile(file)) {
    if (headings) {
      rows += 1
      dates.see(cells)
      if (rows > MOST_ROWS) throw new AppError('TOO_MANY_ROWS', { limit: MOST_ROWS })
    } else {
      headings = headingsOf(cells)
      dates = dayOrdersOf(headings)
    }
  }
  const found = headings ?? []
  const missing = NEEDED.filter((column) => !found.some((one) => one.column === column))
  if (missing.length > 0) throw new AppError('COLUMNS_MISSING', { columns: missing.join(', ') })
  return { headings: found, orders: dates.orders }
}

type Judged = ReadRow & Readonly<{ line: number }>

/** Rows that the record has already are wrong too: asked for a batch at a time. */
async function withKnown(lines: readonly Judged[]): Promise<Judged[]> {
  const serials = lines.flatMap(({ row }) => (row ? [row.serial] : []))
  const found = await db.cylinder.findMany({
    where: { serial: { in: serials } },
    select: { serial: true },
  })
  const known = new Set(found.map(({ serial }) => serial))
  return lines.map((one) =>
    one.row && known.has(one.row.serial)
      ? {
          line: one.line,
          row: null,
          faults: [{ column: 'serial' as const, code: 'CELL_KNOWN', value: one.row.serial }],
        }
      : one,
  )
}

/** Rows that say something, judged, so many at a time. */
async function* judgedBatches(file: Spool, siteId: string, frame: Frame) {
  const read = fleetReader(frame.headings, await readCatalogue(siteId), frame.orders)
  let line = 0
  let batch: Judged[] = []
  for await (const cells of rowsOfFile(file)) {
    line += 1
    if (line === 1 || cells.every((cell) => cell.trim() === '')) continue
    batch.push({ line, ...read(cells, line) })
    if (batch.length < ROWS_A_STATEMENT) continue
    yield await withKnown(batch)
    batch = []
  }
  if (batch.length > 0) yield await withKnown(batch)
}

type Frame = Awaited<ReturnType<typeof readFrame>>

/** All rows judged before anything is written: packed, a twentieth of what they say. */
async function judgeFile(file: Spool, siteId: string) {
  const frame = await readFrame(file)
  const batches: Buffer[] = []
  let [rows, faulty] = [0, 0]
  for await (const batch of judgedBatches(file, siteId, frame)) {
    rows += batch.length
    faulty += batch.filter(({ row }) => !row).length
    batches.push(deflateRawSync(JSON.stringify(batch)))
  }
  if (rows === 0) throw new AppError('FILE_EMPTY')
  return { headings: frame.headings.map(({ column }) => column), rows, faulty, batches }
}

async function keepRows(tx: Tx, importId: string, batches: readonly Buffer[]): Promise<void> {
  for (const batch of batches) {
    await tx.$executeRaw`
      INSERT INTO fleet_import_rows (import_id, line, data, faults)
      SELECT ${importId}::uuid, (x ->> 'line')::int, nullif(x -> 'row', 'null'::jsonb), x -> 'faults'
      FROM jsonb_array_elements(${inflateRawSync(batch).toString()}::jsonb) AS x`
  }
}

export type FleetFile = Readonly<{ key: string; siteId: string; fileName: string; file: Spool }>

/** Keeps what a file says, every row and every wrong cell; takes nothing in yet. */
export async function keepFleetFile(
  viewer: Viewer,
  { key, siteId, fileName, file }: FleetFile,
): Promise<{ importId: string }> {
  const role = roleThen(viewer, 'cylinder:receive', siteId)
  const { batches, ...said } = await judgeFile(file, siteId)
  const input = { siteId, fileName, sha256: file.sha256 }
  return inTransaction(
    viewer,
    'fleet:import',
    (tx) =>
      once(tx, viewer, { key, action: 'fleet:import', input }, async () => {
        const importId = uuidv7()
        await tx.fleetImport.create({
          data: { id: importId, ...input, ...said, personId: viewer.personId, roleThen: role },
          select: { id: true },
        })
        await keepRows(tx, importId, batches)
        return { importId }
      }),
    LONG_LIMITS,
  )
}
