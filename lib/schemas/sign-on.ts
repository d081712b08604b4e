import { z } from 'zod'
import { clientKey, deviceAtField, idField, optionalText, pinField, tickedField } from './fields'

const visitorName = z.string().trim().min(2, 'SAY_IT').max(80, 'TOO_LONG')

/** One of the company's own, with their own PIN, on whatever phone goes round. */
export const signOnSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  personId: idField,
  pin: pinField,
})
export type SignOnInput = z.infer<typeof signOnSchema>

/** A visitor or another firm's: whoever briefed them writes them down. */
export const signVisitorSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  name: visitorName,
  firm: optionalText(80),
  briefed: tickedField,
})
export type SignVisitorInput = z.infer<typeof signVisitorSchema>

/** The same on their own phone, by the posted code. */
export const postedSignOnSchema = z.object({
  name: visitorName,
  firm: optionalText(80),
  briefed: tickedField,
})
export type PostedSignOnInput = z.infer<typeof postedSignOnSchema>
