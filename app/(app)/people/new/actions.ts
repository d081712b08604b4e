'use server'

import type { ActionResult } from '@/lib/action-result'
import { addPerson, type OncePassword } from '@/lib/data/people-set-up'
import { addPersonSchema } from '@/lib/schemas/people'
import { runAction } from '../../permits/run-action'

export type PersonAdded = ActionResult<OncePassword>

export async function addPersonAction(
  _previous: PersonAdded | null,
  formData: FormData,
): Promise<PersonAdded> {
  return runAction({ schema: addPersonSchema, formData }, addPerson)
}
