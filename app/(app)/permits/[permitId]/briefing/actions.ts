'use server'

import type { ActionResult } from '@/lib/action-result'
import { signOn, signVisitor } from '@/lib/data/permits/sign-ons'
import { signOnSchema, signVisitorSchema } from '@/lib/schemas/sign-on'
import { runAction } from '../../run-action'

type Result = ActionResult<{ permitId: string }>

export async function signOnAction(_previous: Result | null, formData: FormData): Promise<Result> {
  return runAction({ schema: signOnSchema, formData }, signOn)
}

export async function signVisitorAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: signVisitorSchema, formData }, signVisitor)
}
