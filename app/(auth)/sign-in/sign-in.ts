import { signIn } from 'next-auth/react'
import type { ActionResult } from '@/lib/action-result'
import { typedValues } from '@/lib/action-result'

const refused = (code: string, waitMin: string | undefined, formData: FormData): ActionResult => ({
  ok: false,
  code,
  params: waitMin ? { waitMin: Number(waitMin) } : {},
  reasons: [],
  fieldErrors: {},
  values: typedValues(formData),
})

/** Signs in with a form's e-mail and password; one refusal whatever was wrong about them. */
export async function submitSignIn(
  _previous: ActionResult | null,
  formData: FormData,
): Promise<ActionResult> {
  const answer = await signIn('credentials', {
    redirect: false,
    email: String(formData.get('email') ?? ''),
    password: String(formData.get('password') ?? ''),
  })
  if (answer?.ok) return { ok: true, data: null }
  const [code, waitMin] = (answer?.error ?? 'FAILED').split(':')
  if (code === 'TOO_MANY_TRIES') return refused('TOO_MANY_TRIES', waitMin, formData)
  return refused(
    code === 'CredentialsSignin' ? 'SIGN_IN_WRONG' : 'SIGN_IN_FAILED',
    undefined,
    formData,
  )
}
