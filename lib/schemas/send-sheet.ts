import { z } from 'zod'
import { clientKey, idField } from './fields'

export const sendSheetSchema = z.object({ key: clientKey, supplierId: idField })
export type SendSheetInput = z.output<typeof sendSheetSchema>
