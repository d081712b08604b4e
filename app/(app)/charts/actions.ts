'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import { chooseChart, retireChart, saveChart } from '@/lib/data/tip-charts'
import { chooseChartSchema, retireChartSchema, saveChartSchema } from '@/lib/schemas/tip-chart'

export type ChartSaved = ActionResult<{ id: string }>
export type ChartChosen = ActionResult<{ outfitId: string }>

/** Keeps a shop's own chart, and shows it. */
export async function saveChartAction(
  _previous: ChartSaved | null,
  formData: FormData,
): Promise<ChartSaved> {
  const viewer = await requireViewer()
  const parsed = saveChartSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const saved = await saveChart(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in saved) return saved
  revalidatePath('/charts')
  redirect(`/charts/${saved.id}`)
}

export async function retireChartAction(
  _previous: ChartSaved | null,
  formData: FormData,
): Promise<ChartSaved> {
  const viewer = await requireViewer()
  const parsed = retireChartSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  const retired = await retireChart(viewer, parsed.data).catch((error: unknown) =>
    toFailure(error, formData),
  )
  if ('ok' in retired) return retired
  revalidatePath('/charts')
  redirect('/charts')
}

export async function chooseChartAction(
  _previous: ChartChosen | null,
  formData: FormData,
): Promise<ChartChosen> {
  const viewer = await requireViewer()
  const parsed = chooseChartSchema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const chosen = await chooseChart(viewer, parsed.data)
    revalidatePath('/charts')
    return { ok: true, data: chosen }
  } catch (error) {
    return toFailure(error, formData)
  }
}
