import { z } from 'zod'
import { HOSE_BORE_CODES } from '../calc/tables/hoses'
import { convert } from '../calc/units'
import { gaugeKpa, kelvin, typedNumber } from './measure'

/** What a box of a calculator holds. A number is typed in the units that the address names. */
type ReckonKind =
  | 'volume'
  | 'pressure'
  | 'temperature'
  | 'flow'
  | 'length'
  | 'weight'
  | 'weights'
  | 'minutes'
  | 'hours'
  | 'count'
  | 'choice'

export type ReckonField = Readonly<{
  name: string
  kind: ReckonKind
  choices?: readonly string[]
  isOptional?: true
}>

const number = (name: string, kind: ReckonKind): ReckonField => ({ name, kind })
const choice = (name: string, choices: readonly string[]): ReckonField => ({
  name,
  kind: 'choice',
  choices,
})

const READ_BY_GAUGE = ['oxygen', 'acetylene', 'nitrogen', 'argon'] as const
const BURNT = ['oxygen', 'acetylene', 'propane'] as const
const SIZE = [number('nominal', 'volume'), number('full', 'pressure')]
const READING = [number('gauge', 'pressure'), number('temperature', 'temperature')]

/** The calculators, and the boxes of each in the order of the page. */
export const RECKON_FIELDS = {
  contents: [choice('gas', READ_BY_GAUGE), ...SIZE, ...READING],
  'run-time': [
    choice('gas', READ_BY_GAUGE),
    ...SIZE,
    ...READING,
    number('changeAt', 'pressure'),
    number('cylinders', 'count'),
    number('draw', 'flow'),
  ],
  manifold: [
    choice('gas', BURNT),
    number('contents', 'weight'),
    number('draw', 'flow'),
    number('burn', 'hours'),
    number('air', 'temperature'),
    choice('place', ['indoors', 'outdoors']),
  ],
  hose: [
    choice('gas', BURNT),
    number('flow', 'flow'),
    choice('bore', HOSE_BORE_CODES),
    number('length', 'length'),
    number('tip', 'pressure'),
  ],
  leak: [
    choice('gas', BURNT),
    choice('bore', HOSE_BORE_CODES),
    number('length', 'length'),
    number('start', 'pressure'),
    number('end', 'pressure'),
    { name: 'startTemperature', kind: 'temperature', isOptional: true },
    { name: 'endTemperature', kind: 'temperature', isOptional: true },
    number('elapsed', 'minutes'),
    number('resolution', 'pressure'),
  ],
  load: [
    number('weights', 'weights'),
    number('other', 'weight'),
    choice('purpose', [
      'supports_principal_business',
      'protects_people',
      'runs_the_vehicle',
      'delivery_of_goods',
    ]),
    choice('carrier', ['private', 'for_hire']),
  ],
  'small-load': [number('flammable', 'weight'), number('inert', 'count')],
} as const satisfies Record<string, readonly ReckonField[]>

export type ReckonTool = keyof typeof RECKON_FIELDS
export const RECKON_TOOLS = Object.keys(RECKON_FIELDS) as readonly ReckonTool[]
export const isReckonTool = (text: string): text is ReckonTool => text in RECKON_FIELDS

export type ReckonUnits = 'us' | 'si'
/** As the address carries it: text by box. */
export type ReckonValues = Readonly<Record<string, string>>
/** In SI, by box; a list of weights in kilograms. */
export type ReckonRead = Readonly<Record<string, number | string | readonly number[] | undefined>>

function inSi(kind: ReckonKind, value: number, units: ReckonUnits): number {
  const isUs = units === 'us'
  switch (kind) {
    case 'volume':
      return convert({ value, from: isUs ? 'ft3' : 'm3', to: 'm3' })
    case 'flow':
      return convert({ value, from: isUs ? 'ft3/h' : 'm3/h', to: 'm3/s' })
    case 'pressure':
      return gaugeKpa(value, isUs ? 'psi' : 'kPa')
    case 'temperature':
      return kelvin(value, isUs ? 'degF' : 'degC')
    case 'length':
      return convert({ value, from: isUs ? 'ft' : 'm', to: 'm' })
    case 'weight':
      return convert({ value, from: isUs ? 'lb' : 'kg', to: 'kg' })
    case 'minutes':
      return convert({ value, from: 'min', to: 's' })
    case 'hours':
      return convert({ value, from: 'h', to: 's' })
    default:
      return value
  }
}

function schemaOf(field: ReckonField, units: ReckonUnits): z.ZodType {
  if (field.kind === 'choice') return z.enum(field.choices as [string, ...string[]], 'CHOOSE_ONE')
  if (field.kind === 'weights')
    return z
      .string('ENTER_A_NUMBER')
      .transform((text) => text.split(/[,;\s]+/).filter(Boolean))
      .pipe(
        z
          .array(typedNumber.transform((one) => inSi('weight', one, units)))
          .min(1, 'ENTER_A_NUMBER')
          .max(200, 'TOO_LARGE'),
      )
  return typedNumber.transform((value) => inSi(field.kind, value, units))
}

/**
 * Reads a calculator's boxes.
 *
 * @param tool which; its boxes as text; the units that bare numbers are in
 * @returns values in SI, or the boxes that hold something unreadable; null while a box that is needed is empty
 */
export function readReckon(
  tool: ReckonTool,
  values: ReckonValues,
  units: ReckonUnits,
): { ok: true; read: ReckonRead } | { ok: false; wrong: readonly string[] } | null {
  const fields: readonly ReckonField[] = RECKON_FIELDS[tool]
  const isEmpty = ({ name }: ReckonField) => (values[name] ?? '').trim() === ''
  const filled = fields.filter((field) => !isEmpty(field))
  const parsed = z
    .object(Object.fromEntries(filled.map((field) => [field.name, schemaOf(field, units)])))
    .safeParse(values)
  if (!parsed.success)
    return { ok: false, wrong: parsed.error.issues.map((issue) => String(issue.path[0])) }
  if (fields.some((field) => isEmpty(field) && !field.isOptional)) return null
  return { ok: true, read: parsed.data as ReckonRead }
}
