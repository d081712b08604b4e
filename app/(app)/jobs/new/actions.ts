'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { createJob } from '@/lib/data/jobs'
import { newJobSchema } from '@/lib/schemas/job'

type Created = ActionResult<{ id: string }>

export async function createJobAction(
  _previous: Created | null,
  formData: FormData,
): Promise<Created> {
  const viewer = await requireViewer()
  const parsed = newJobSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const created = await createJob(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in created) return created
  revalidatePath('/cuts')
  redirect(`/jobs/${created.id}`)
}
