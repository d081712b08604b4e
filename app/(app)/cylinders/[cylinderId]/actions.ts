'use server'

import { revalidatePath } from 'next/cache'
import type { z } from 'zod'
import type { Viewer } from '@/lib/access/viewer'
import { type ActionResult, invalidInput, toFailure } from '@/lib/action-result'
import { requireViewer } from '@/lib/auth/viewer'
import {
  markCylinderEmpty,
  quarantineCylinder,
  readCylinder,
  releaseCylinder,
  returnCylinder,
} from '@/lib/data/cylinders-acts'
import {
  correctReading,
  moveCylinder,
  recordFill,
  recordTest,
  reportFound,
  reportLost,
  scrapCylinder,
  sendForTest,
} from '@/lib/data/cylinders-life'
import { cylinderActSchema, cylinderReasonSchema, readCylinderSchema } from '@/lib/schemas/cylinder'
import {
  correctReadingSchema,
  findCylinderSchema,
  holdBackSchema,
  moveCylinderSchema,
  recordFillSchema,
  recordTestSchema,
} from '@/lib/schemas/cylinder-life'

type Acted = Readonly<{ cylinderId: string; eventId: string }>
export type CylinderActed = ActionResult<Acted>

/** Who, parse, act, show: the same four steps for everything that may happen to a cylinder. */
async function act<T extends z.ZodType>(
  schema: T,
  change: (viewer: Viewer, input: z.output<T>) => Promise<Acted>,
  formData: FormData,
): Promise<CylinderActed> {
  const viewer = await requireViewer()
  const parsed = schema.safeParse(Object.fromEntries(formData))
  if (!parsed.success) return invalidInput(parsed.error, formData)
  try {
    const acted = await change(viewer, parsed.data)
    revalidatePath(`/cylinders/${acted.cylinderId}`)
    return { ok: true, data: acted }
  } catch (error) {
    return toFailure(error, formData)
  }
}

export async function readCylinderAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(readCylinderSchema, readCylinder, formData)
}

export async function markEmptyAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(cylinderActSchema, markCylinderEmpty, formData)
}

export async function quarantineAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(holdBackSchema, quarantineCylinder, formData)
}

export async function releaseAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(cylinderReasonSchema, releaseCylinder, formData)
}

export async function returnAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(cylinderActSchema, returnCylinder, formData)
}

export async function moveCylinderAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(moveCylinderSchema, moveCylinder, formData)
}

export async function sendForTestAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(cylinderActSchema, sendForTest, formData)
}

export async function recordTestAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(recordTestSchema, recordTest, formData)
}

export async function recordFillAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(recordFillSchema, recordFill, formData)
}

export async function reportLostAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(cylinderReasonSchema, reportLost, formData)
}

export async function reportFoundAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(findCylinderSchema, reportFound, formData)
}

export async function scrapCylinderAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(cylinderReasonSchema, scrapCylinder, formData)
}

export async function correctReadingAction(
  _previous: CylinderActed | null,
  formData: FormData,
): Promise<CylinderActed> {
  return act(correctReadingSchema, correctReading, formData)
}
