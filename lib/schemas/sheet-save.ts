import { z } from 'zod'
import type { DescribedCut } from './cut'
import { clientKey } from './fields'
import { SHEET_COLUMNS } from './sheet-columns'
import { readSheetRow } from './sheet-row'

/** The most cuts that one list may hold: what a page reads stays bounded. */
export const MOST_CUTS = 10_000

const cellsSchema = z.partialRecord(z.enum(SHEET_COLUMNS), z.string().max(400, 'TOO_LONG'))
const namedSchema = z.object({ cutId: z.uuid(), version: z.number().int().min(0) })
const changesSchema = z.object({
  units: z.enum(['us', 'si']),
  rows: z
    .array(namedSchema.partial().extend({ cells: cellsSchema }))
    .max(MOST_CUTS, 'TOO_MANY_ROWS'),
  removed: z.array(namedSchema).max(MOST_CUTS, 'TOO_MANY_ROWS'),
})
/** What a sheet sends: rows that are new or changed, and which of the list's are taken off. */
export type SheetChanges = z.input<typeof changesSchema>

export type SheetRowToSave = Readonly<{
  cutId: string | null
  version: number | null
  cut: DescribedCut
}>

const parsedJson = z.string('SAY_IT').transform((text, context) => {
  try {
    return JSON.parse(text) as unknown
  } catch {
    context.addIssue({ code: 'custom', message: 'NOT_UNDERSTOOD' })
    return z.NEVER
  }
})

/** All changes of a sheet in one submission; every row is read again by the schema of a single cut. */
export const saveSheetSchema = z.object({
  key: clientKey,
  cutListId: z.uuid(),
  changes: parsedJson.pipe(changesSchema).transform((changes, context) => {
    const rows: SheetRowToSave[] = []
    changes.rows.forEach(({ cutId, version, cells }, index) => {
      const read = readSheetRow(cells, changes.units)
      if (read.ok) {
        rows.push({ cutId: cutId ?? null, version: version ?? null, cut: read.cut })
        return
      }
      for (const { column, code } of read.problems)
        context.addIssue({ code: 'custom', path: ['rows', index, column], message: code })
    })
    return { rows, removed: changes.removed }
  }),
})
export type SaveSheetInput = z.output<typeof saveSheetSchema>
