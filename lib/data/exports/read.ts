import 'server-only'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from '../client'
import type { ExportList } from './list-sql'
import { EXPORTS, isExportName } from './lists'

const ROWS_A_STATEMENT = 500
const BEFORE_ALL = '00000000-0000-0000-0000-000000000000'

export type Cell = string | number | null
type Row = Readonly<{ id: string; cells: readonly (Cell | boolean)[] }>

const shown = (cell: Cell | boolean): Cell =>
  typeof cell === 'boolean' ? (cell ? 'yes' : 'no') : cell

/** Rows in the order in which they came to be, a few hundred a statement, however many there are. */
async function* pagesOf(list: ExportList, siteIds: readonly string[]): AsyncGenerator<Cell[][]> {
  for (let after = BEFORE_ALL; ; ) {
    const rows = await db.$queryRaw<Row[]>`
      SELECT x.id::text AS id, jsonb_build_array(${list.cells}) AS cells
      FROM ${list.from(siteIds)} JOIN sites s ON s.id = ${list.site}
      WHERE ${list.site} = ANY (${[...siteIds]}::uuid[]) AND x.id > ${after}::uuid
      ORDER BY x.id LIMIT ${ROWS_A_STATEMENT}`
    yield rows.map(({ cells }) => cells.map(shown))
    const last = rows.at(-1)
    if (!last || rows.length < ROWS_A_STATEMENT) return
    after = last.id
  }
}

export type Exported = Readonly<{ head: readonly string[]; pages: AsyncIterable<Cell[][]> }>

/** One of the lists, at a site, or at every site where the viewer may read it. */
export function openExport(viewer: Viewer, name: string, siteId: string | null): Exported {
  if (!isExportName(name)) throw new AppError('NOT_FOUND')
  const list: ExportList = EXPORTS[name]
  if (siteId !== null) assertCan(viewer, list.action, siteId)
  const siteIds = siteId === null ? sitesWhere(viewer, list.action) : [siteId]
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: list.action })
  return { head: list.head, pages: pagesOf(list, siteIds) }
}
