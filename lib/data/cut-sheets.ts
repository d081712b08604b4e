import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { shapeCode } from '@/lib/schemas/cut-dims'
import { MOST_CUTS, type SaveSheetInput, type SheetRowToSave } from '@/lib/schemas/sheet-save'
import { once } from './client-keys'
import { writableList } from './cut-lists'
import { inTransaction, type Tx } from './tx'

type List = Readonly<{ id: string; siteId: string }>

const stored = ({ cutId, version, cut }: SheetRowToSave) => ({
  id: cutId ?? uuidv7(),
  version,
  title: cut.title ?? '',
  material: cut.material,
  coating: cut.coating,
  shape: shapeCode(cut.dims),
  dims: cut.dims,
  position: cut.position,
  count: cut.count,
  piece_kg: cut.pieceKg,
  note: cut.note,
})

/** Every row of one kind goes in one statement, however many they are. */
async function insertRows(tx: Tx, list: List, rows: readonly SheetRowToSave[]): Promise<void> {
  if (rows.length === 0) return
  await tx.$executeRaw`
    INSERT INTO cuts (id, site_id, cut_list_id, ordinal, title, material, coating, shape, dims, position, count, piece_kg, note)
    SELECT r.id, ${list.siteId}::uuid, ${list.id}::uuid,
           (SELECT coalesce(max(ordinal), 0) FROM cuts WHERE cut_list_id = ${list.id}::uuid) + r.at,
           r.title, r.material, r.coating, r.shape, r.dims, r.position, r.count, r.piece_kg, r.note
    FROM jsonb_to_recordset(${JSON.stringify(rows.map((row, index) => ({ ...stored(row), at: index + 1 })))}::jsonb)
      AS r(id uuid, at int, title text, material text, coating text, shape text, dims jsonb, position text, count int, piece_kg float8, note text)`
}

async function changeRows(tx: Tx, list: List, rows: readonly SheetRowToSave[]): Promise<void> {
  if (rows.length === 0) return
  const asked = JSON.stringify(rows.map(stored))
  const [begun] = await tx.$queryRaw<{ ordinal: number; done: number; count: number }[]>`
    SELECT c.ordinal, c.done_count AS done, r.count FROM cuts c
    JOIN jsonb_to_recordset(${asked}::jsonb) AS r(id uuid, count int) ON r.id = c.id
    WHERE c.cut_list_id = ${list.id}::uuid AND r.count < c.done_count ORDER BY c.ordinal LIMIT 1`
  if (begun) throw new AppError('FEWER_THAN_DONE', { done: begun.done, count: begun.count })
  const changed = await tx.$executeRaw`
    UPDATE cuts AS c SET title = r.title, material = r.material, coating = r.coating, shape = r.shape,
      dims = r.dims, position = r.position, count = r.count, piece_kg = r.piece_kg, note = r.note,
      version = c.version + 1
    FROM jsonb_to_recordset(${asked}::jsonb)
      AS r(id uuid, version int, title text, material text, coating text, shape text, dims jsonb, position text, count int, piece_kg float8, note text)
    WHERE c.id = r.id AND c.cut_list_id = ${list.id}::uuid AND c.version = r.version`
  if (changed !== rows.length) throw new AppError('CONFLICT')
}

async function removeRows(
  tx: Tx,
  list: List,
  rows: SaveSheetInput['changes']['removed'],
): Promise<void> {
  if (rows.length === 0) return
  const asked = JSON.stringify(rows.map(({ cutId, version }) => ({ id: cutId, version })))
  const [begun] = await tx.$queryRaw<{ done: number }[]>`
    SELECT c.done_count AS done FROM cuts c
    JOIN jsonb_to_recordset(${asked}::jsonb) AS r(id uuid) ON r.id = c.id
    WHERE c.cut_list_id = ${list.id}::uuid AND c.done_count > 0 LIMIT 1`
  if (begun) throw new AppError('CUT_BEGUN', { done: begun.done })
  const removed = await tx.$executeRaw`
    DELETE FROM cuts AS c USING jsonb_to_recordset(${asked}::jsonb) AS r(id uuid, version int)
    WHERE c.id = r.id AND c.cut_list_id = ${list.id}::uuid AND c.version = r.version`
  if (removed !== rows.length) throw new AppError('CONFLICT')
}

/** Saves all changes of a sheet together: all of them or none. What is cut already stays counted. */
export async function saveSheet(viewer: Viewer, input: SaveSheetInput): Promise<{ jobId: string }> {
  const list = await writableList(viewer, input.cutListId)
  const { rows, removed } = input.changes
  return inTransaction(viewer, 'cut-list:sheet', (tx) =>
    once(tx, viewer, { key: input.key, action: 'cut-list:sheet', input }, async () => {
      // The list's row is locked, so that rows added at once do not take the same place.
      await tx.$queryRaw`SELECT id FROM cut_lists WHERE id = ${list.id}::uuid FOR UPDATE`
      await removeRows(tx, list, removed)
      await changeRows(
        tx,
        list,
        rows.filter((row) => row.cutId !== null),
      )
      await insertRows(
        tx,
        list,
        rows.filter((row) => row.cutId === null),
      )
      const held = await tx.cut.count({ where: { cutListId: list.id } })
      if (held > MOST_CUTS) throw new AppError('CUT_LIST_FULL', { most: MOST_CUTS })
      return { jobId: list.jobId }
    }),
  )
}
