'use server'

import { revalidatePath } from 'next/cache'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { type CheckedStatement, checkRentStatement, saveRentTerms } from '@/lib/data/rent'
import { rentTermsSchema, statementSchema } from '@/lib/schemas/rent'

export type TermsSaved = ActionResult<Readonly<{ termsId: string }>>
export type StatementChecked = ActionResult<CheckedStatement>

export async function saveRentTermsAction(
  _previous: TermsSaved | null,
  formData: FormData,
): Promise<TermsSaved> {
  const viewer = await requireViewer()
  const parsed = rentTermsSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const saved = await saveRentTerms(viewer, parsed.data)
    revalidatePath('/rent')
    return { ok: true, data: saved }
  } catch (error) {
    return toFailure(error, formData)
  }
}

/** Reads and compares; nothing is kept. */
export async function checkStatementAction(
  _previous: StatementChecked | null,
  formData: FormData,
): Promise<StatementChecked> {
  const viewer = await requireViewer()
  const parsed = statementSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    return { ok: true, data: await checkRentStatement(viewer, parsed.data) }
  } catch (error) {
    return toFailure(error, formData)
  }
}
