'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { type Received, receiveDelivery } from '@/lib/data/deliveries'
import { deliverySchema } from '@/lib/schemas/delivery'

export type DeliveryReceived = ActionResult<Received>

const COLUMNS = [
  'serial',
  'sizeId',
  'filledOn',
  'dueMonth',
  'requalifiedOn',
  'batch',
  'outcome',
] as const

const BLANK: Readonly<Partial<Record<(typeof COLUMNS)[number], string>>> = { outcome: 'take' }

/** The rows share their names: the n-th of each is row n. Empty rows at the end are no rows. */
function rowsOf(formData: FormData) {
  const columns = COLUMNS.map((name) => formData.getAll(name).map(String))
  const rows = (columns[0] ?? []).map((_serial, row) =>
    Object.fromEntries(
      COLUMNS.map((name, column) => [name, columns[column]?.[row] ?? BLANK[name] ?? '']),
    ),
  )
  const last = rows.findLastIndex(
    (row) => row.serial || row.filledOn || row.dueMonth || row.requalifiedOn,
  )
  return rows.slice(0, last + 1)
}

export async function receiveDeliveryAction(
  _previous: DeliveryReceived | null,
  formData: FormData,
): Promise<DeliveryReceived> {
  const viewer = await requireViewer()
  const parsed = deliverySchema.safeParse({
    ...Object.fromEntries(formData),
    rows: rowsOf(formData),
  })
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const received = await receiveDelivery(viewer, parsed.data)
    revalidatePath('/cylinders')
    return { ok: true, data: received }
  } catch (error) {
    return toFailure(error, formData)
  }
}
