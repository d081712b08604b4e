import { z } from 'zod'
import { clientKey, idField } from './fields'

export const importBatchSchema = z.object({ key: clientKey, importId: idField })
export type ImportBatchInput = z.output<typeof importBatchSchema>

/** Some 120,000 rows. */
export const LARGEST_FLEET_FILE = 30_000_000

export const importFileSchema = z.object({
  key: clientKey,
  siteId: idField,
  fileName: z.string().trim().min(1).max(200),
})
