import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { ImportBatchInput } from '@/lib/schemas/fleet-import'
import type { CellFault, FleetRow } from '@/lib/schemas/fleet-rows'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction, LONG_LIMITS, type Tx } from './tx'

const ROWS_A_BATCH = 400
const PAGE = 100

export type FleetImportView = Readonly<{
  id: string
  siteId: string
  siteName: string
  zone: string
  fileName: string
  at: Date
  rows: number
  faulty: number
  good: number
  taken: number
  known: number
  /** Good rows that no batch has reached. */
  left: number
  headings: readonly string[]
  faults: readonly Readonly<{ line: number; faults: readonly CellFault[] }>[]
  nextLine: number | null
}>

async function findImport(viewer: Viewer, id: string) {
  const found = await db.fleetImport.findFirst({
    where: { id, siteId: { in: sitesWhere(viewer, 'site:read') } },
  })
  if (!found) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:receive', found.siteId)
  return found
}

async function progressOf(tx: Tx, importId: string) {
  const [row] = await tx.$queryRaw<{ taken: number; known: number; to_line: number }[]>`
    SELECT coalesce(sum(taken), 0)::int AS taken, coalesce(sum(known), 0)::int AS known, coalesce(max(to_line), 0)::int AS to_line
    FROM fleet_import_batches WHERE import_id = ${importId}::uuid`
  return row ?? { taken: 0, known: 0, to_line: 0 }
}

/** What the file said, wrong cells from a line on, and how far it was taken in. */
export async function getFleetImport(
  viewer: Viewer,
  id: string,
  afterLine: number,
): Promise<FleetImportView> {
  const found = await findImport(viewer, id)
  const [site, progress, wrong] = await Promise.all([
    db.site.findUniqueOrThrow({
      where: { id: found.siteId },
      select: { name: true, zone: true },
    }),
    progressOf(db, id),
    db.$queryRaw<{ line: number; faults: CellFault[] }[]>`
      SELECT line, faults FROM fleet_import_rows
      WHERE import_id = ${id}::uuid AND data IS NULL AND line > ${afterLine} ORDER BY line LIMIT ${PAGE + 1}`,
  ])
  const good = found.rows - found.faulty
  const shown = wrong.slice(0, PAGE)
  return {
    id,
    siteId: found.siteId,
    siteName: site.name,
    zone: site.zone,
    fileName: found.fileName,
    at: found.at,
    rows: found.rows,
    faulty: found.faulty,
    good,
    taken: progress.taken,
    known: progress.known,
    left: good - progress.taken - progress.known,
    headings: found.headings as string[],
    faults: shown,
    nextLine: wrong.length > PAGE ? (shown.at(-1)?.line ?? null) : null,
  }
}

export type ImportHead = Readonly<{
  id: string
  fileName: string
  at: Date
  rows: number
  faulty: number
}>

export async function listFleetImports(viewer: Viewer, siteId: string): Promise<ImportHead[]> {
  assertCan(viewer, 'cylinder:receive', siteId)
  return db.fleetImport.findMany({
    where: { siteId },
    orderBy: { at: 'desc' },
    take: 10,
    select: { id: true, fileName: true, at: true, rows: true, faulty: true },
  })
}

const monthDate = (month: string | null) => (month ? new Date(`${month}-01T00:00:00.000Z`) : null)
const dayDate = (day: string | null) => (day ? new Date(`${day}T00:00:00.000Z`) : null)

async function takeRows(
  tx: Tx,
  rows: readonly FleetRow[],
  by: Readonly<{ siteId: string; personId: string; roleThen: string }>,
): Promise<number> {
  const serials = rows.map((row) => row.serial)
  const [known, sizes] = await Promise.all([
    tx.cylinder.findMany({ where: { serial: { in: serials } }, select: { serial: true } }),
    tx.cylinderSize.findMany({ select: { id: true, gasId: true } }),
  ])
  const isKnown = new Set(known.map((row) => row.serial))
  const gasOf = new Map(sizes.map((size) => [size.id, size.gasId]))
  const fresh = rows.filter((row) => !isKnown.has(row.serial)).map((row) => ({ id: uuidv7(), row }))
  await tx.cylinder.createMany({
    data: fresh.map(({ id, row }) => ({
      id,
      serial: row.serial,
      gasId: gasOf.get(row.sizeId) ?? '',
      sizeId: row.sizeId,
      spec: row.spec,
      tareKg: row.tareKg,
      ownership: row.ownership,
      supplierId: row.supplierId,
      madeMonth: monthDate(row.madeMonth),
      requalifiedOn: dayDate(row.testedOn),
      dueMonth: monthDate(row.dueMonth),
    })),
  })
  await tx.cylinderEvent.createMany({
    data: fresh.map(({ id, row }) => ({
      id: uuidv7(),
      cylinderId: id,
      kind: row.ownership === 'owned' ? 'bought' : 'rented_in',
      areaId: row.areaId,
      filledOn: dayDate(row.filledOn),
      markedEmpty: row.isEmpty,
      ...by,
    })),
  })
  return fresh.length
}

export type BatchTaken = { taken: number; known: number; left: number }

/**
 * Takes in the next rows of a file, a batch a transaction. Whoever goes on after a crash, or beside
 * somebody else, goes on where the last whole batch ended.
 */
export async function takeImportBatch(
  viewer: Viewer,
  input: ImportBatchInput,
): Promise<BatchTaken> {
  const found = await findImport(viewer, input.importId)
  const role = roleThen(viewer, 'cylinder:receive', found.siteId)
  return inTransaction(
    viewer,
    'fleet:take-in',
    (tx) =>
      once(tx, viewer, { key: input.key, action: 'fleet:take-in', input }, async () => {
        // One at a time: the next batch begins where this one ends.
        await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended('kerf import ' || ${input.importId}, 0))`
        const before = await progressOf(tx, input.importId)
        const rows = await tx.$queryRaw<{ line: number; data: FleetRow }[]>`
        SELECT line, data FROM fleet_import_rows
        WHERE import_id = ${input.importId}::uuid AND data IS NOT NULL AND line > ${before.to_line}
        ORDER BY line LIMIT ${ROWS_A_BATCH}`
        const [first, last] = [rows[0], rows.at(-1)]
        if (!first || !last) return { taken: 0, known: 0, left: 0 }
        const by = { siteId: found.siteId, personId: viewer.personId, roleThen: role }
        const taken = await takeRows(
          tx,
          rows.map((row) => row.data),
          by,
        )
        const known = rows.length - taken
        await tx.fleetImportBatch.create({
          data: {
            id: uuidv7(),
            importId: input.importId,
            fromLine: first.line,
            toLine: last.line,
            taken,
            known,
            ...by,
          },
          select: { id: true },
        })
        const left = found.rows - found.faulty - before.taken - before.known - rows.length
        return { taken, known, left }
      }),
    LONG_LIMITS,
  )
}
