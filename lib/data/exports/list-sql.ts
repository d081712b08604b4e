import 'server-only'
import type { Action } from '@/lib/access/access'
import { Prisma } from '../generated/client'

export type ExportList = Readonly<{
  action: Action
  head: readonly string[]
  /** Cells as SQL, one for each head. */
  cells: Prisma.Sql
  /** Rows named x, of which no two share an id. */
  from: (siteIds: readonly string[]) => Prisma.Sql
  /** The site of a row. */
  site: Prisma.Sql
}>

/** As the clock on the site's wall shows it: a spreadsheet reads this as a time. */
export const at = (column: string) =>
  Prisma.raw(`to_char(${column} AT TIME ZONE s.zone, 'YYYY-MM-DD HH24:MI')`)
export const day = (column: string) => Prisma.raw(`to_char(${column}, 'YYYY-MM-DD')`)
export const list = (
  action: Action,
  head: string,
  cells: Prisma.Sql,
  from: Prisma.Sql | ExportList['from'],
  site = Prisma.raw('x.site_id'),
): ExportList => ({
  action,
  head: head.split(' '),
  cells,
  from: typeof from === 'function' ? from : () => from,
  site,
})
