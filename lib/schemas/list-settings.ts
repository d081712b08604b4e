import { z } from 'zod'
import { PURITY_PCT } from '../calc/cut-times'
import { JUDGEMENTS } from '../calc/judgements'
import { convert } from '../calc/units'
import { typedNumber } from './measure'

/** Judged figures that may be changed for a list. */
export const JUDGED_BOXES = [
  'horizontal',
  'vertical',
  'overhead',
  'awkward',
  'dirty',
  'painted',
  'cold',
  'wind',
  'mostTimes',
  'edgeStart',
  'restart',
  'handRestartsPerM',
  'lightUp',
  'idleFlame',
  'operatingFactor',
] as const
type JudgedBox = (typeof JUDGED_BOXES)[number]

const flow = z.number().positive().max(1)

/** What `cut_lists.settings` holds; what is absent is as usual. */
export const listSettingsSchema = z.object({
  oxygenPurityPct: z.number().min(PURITY_PCT.min).max(PURITY_PCT.max).exactOptional(),
  ownFuelFlowM3PerS: z.tuple([flow, flow]).exactOptional(),
  judgements: z.partialRecord(z.enum(JUDGED_BOXES), z.number()).exactOptional(),
})
export type ListSettings = z.output<typeof listSettingsSchema>

const text = z.string().optional()
const judgedName = (box: JudgedBox) => `judged-${box}` as const
const judgedTexts = Object.fromEntries(
  JUDGED_BOXES.map((box) => [judgedName(box), text]),
) as Record<ReturnType<typeof judgedName>, typeof text>
const FLOW_UNITS = ['ft3/h', 'm3/h'] as const
const flowUnit = z.enum(FLOW_UNITS).optional()

const typedSettings = z.object({
  purity: text,
  fuelLow: text,
  fuelLowUnit: flowUnit,
  fuelHigh: text,
  fuelHighUnit: flowUnit,
  ...judgedTexts,
})

type Within = Readonly<{ min: number; max: number }>

/** Settings of a list as typed; an empty box is as usual. */
export const listSettingsForm = typedSettings.transform((typed, context) => {
  const wrong = (box: string, message: string): undefined => {
    context.addIssue({ code: 'custom', path: [box], message })
  }
  const number = (box: string, from: string | undefined, { min, max }: Within) => {
    if ((from ?? '').trim() === '') return undefined
    const read = typedNumber.safeParse(from)
    if (!read.success) return wrong(box, 'ENTER_A_NUMBER')
    return read.data >= min && read.data <= max ? read.data : wrong(box, 'OUT_OF_RANGE')
  }
  const flowOf = (box: 'fuelLow' | 'fuelHigh') => {
    const value = number(box, typed[box], { min: 1e-6, max: 10_000 })
    const from = typed[`${box}Unit`]
    if (value === undefined) return undefined
    return from ? convert({ value, from, to: 'm3/s' }) : wrong(box, 'CHOOSE_ONE')
  }
  const [low, high] = [flowOf('fuelLow'), flowOf('fuelHigh')]
  if (low !== undefined && high === undefined) wrong('fuelHigh', 'ENTER_A_NUMBER')
  if (high !== undefined && low === undefined) wrong('fuelLow', 'ENTER_A_NUMBER')
  if (low !== undefined && high !== undefined && high < low) wrong('fuelHigh', 'OUT_OF_RANGE')
  const judged = JUDGED_BOXES.flatMap((box) => {
    const name = judgedName(box)
    const value = number(name, typed[name], JUDGEMENTS[box])
    return value === undefined || value === JUDGEMENTS[box].usual ? [] : [[box, value] as const]
  })
  const oxygenPurityPct = number('purity', typed.purity, PURITY_PCT)
  const settings: ListSettings = {
    ...(oxygenPurityPct === undefined ? {} : { oxygenPurityPct }),
    ...(low === undefined || high === undefined
      ? {}
      : { ownFuelFlowM3PerS: [low, high] as [number, number] }),
    ...(judged.length > 0 ? { judgements: Object.fromEntries(judged) } : {}),
  }
  return { settings }
})
