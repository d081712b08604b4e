import { z } from 'zod'
import {
  clientKey,
  clockField,
  contentHashField,
  dayField,
  deviceAtField,
  idField,
  optionalId,
  pinField,
  requiredText,
  versionField,
} from './fields'

/** A press of the slab, signed in. 'hold' is the first press, 'stop' ends it for good. */
export const stopSchema = z.object({
  key: clientKey,
  step: z.enum(['hold', 'stop'], 'CHOOSE_ONE'),
  deviceAt: deviceAtField,
})
export type StopInput = z.infer<typeof stopSchema>

export const smokeSchema = z.object({ key: clientKey, deviceAt: deviceAtField })
export type SmokeInput = z.infer<typeof smokeSchema>

/** By the posted code there is nobody to keep a key for: the permit's own state says what was done. */
export const postedStopSchema = z.object({ step: z.enum(['hold', 'stop'], 'CHOOSE_ONE') })
export type PostedStopInput = z.infer<typeof postedStopSchema>

/** The alphabet of kerf_stop_code(): no look-alikes. */
export const postedCodeSchema = z.string().regex(/^[a-hjkmnp-z02-9]{12}$/)

export const POST_ANSWERS = ['clear', 'warm', 'smoke'] as const

export const roundSchema = z.object({
  key: clientKey,
  deviceAt: deviceAtField,
  posts: z
    .array(
      z.object({
        post: z.string().trim().min(1).max(120),
        answer: z.enum(POST_ANSWERS, 'CHOOSE_ONE'),
        /** What hangs at the post, scanned or typed. */
        code: z.string().trim().max(60).optional(),
        /** Why it could not be. */
        unscanned: z.string().trim().max(200).optional(),
      }),
    )
    .max(40, 'TOO_MANY'),
})
export type RoundInput = z.infer<typeof roundSchema>

const onPermit = {
  key: clientKey,
  permitId: idField,
  version: versionField,
  deviceAt: deviceAtField,
}

/** A duty that is said to be done: monitoring, the final look. */
export const dutySchema = z.object({ ...onPermit, found: requiredText(200) })
export type DutyInput = z.infer<typeof dutySchema>

export const statementSchema = z.object({ ...onPermit, statement: requiredText(400) })
export type StatementInput = z.infer<typeof statementSchema>

export const restoreSchema = z.object({ ...onPermit, impairmentId: z.string().min(1).max(60) })
export type RestoreInput = z.infer<typeof restoreSchema>

export const leaveWatchSchema = z.object({
  ...onPermit,
  personId: idField,
  why: requiredText(),
})
export type LeaveWatchInput = z.infer<typeof leaveWatchSchema>

/** The last inspection, signed: by who stood the watch, then by the PAI, who closes it. */
export const finalSignSchema = z.object({
  ...onPermit,
  contentHash: contentHashField,
  personId: idField,
  pin: pinField,
})
export type FinalSignInput = z.infer<typeof finalSignSchema>

export const outsideSchema = z.object({
  key: clientKey,
  areaId: idField,
  permitId: optionalId,
  operatorId: idField,
  day: dayField,
  from: clockField,
  to: clockField,
  what: requiredText(200),
  why: requiredText(300),
})
export type OutsideInput = z.infer<typeof outsideSchema>

export const noticeSeenSchema = z.object({ key: clientKey, noticeId: idField })
export type NoticeSeenInput = z.infer<typeof noticeSeenSchema>
