import type { CutShapeCode } from './cut'

/** What a measure is taken for when its cell names no unit: the person's own. */
export type SheetUnits = 'us' | 'si'

const DEFAULT_UNITS = {
  us: { small: 'in', long: 'ft', area: 'ft2', mass: 'lb' },
  si: { small: 'mm', long: 'm', area: 'm2', mass: 'kg' },
} as const
type MeasureKind = keyof (typeof DEFAULT_UNITS)['us']

/** Signs that people write after a number. */
const UNIT_OF_SIGN: Readonly<Record<string, string>> = {
  '"': 'in',
  '”': 'in',
  in: 'in',
  inch: 'in',
  inches: 'in',
  "'": 'ft',
  '’': 'ft',
  ft: 'ft',
  feet: 'ft',
  mm: 'mm',
  m: 'm',
  ft2: 'ft2',
  'ft²': 'ft2',
  'sq ft': 'ft2',
  m2: 'm2',
  'm²': 'm2',
  'sq m': 'm2',
  lb: 'lb',
  lbs: 'lb',
  '#': 'lb',
  kg: 'kg',
}

export const unitOfSign = (sign: string): string | null =>
  UNIT_OF_SIGN[sign.trim().toLowerCase().replace(/\.$/, '')] ?? null

/** The unit that a bare number of this kind is in. */
export const bareUnit = (kind: MeasureKind, units: SheetUnits): string => DEFAULT_UNITS[units][kind]

/** Which kind of measure a column holds for a shape: a piece of plate is an area, of all else a length. */
export function kindOf(
  column: 'thickness' | 'width' | 'length' | 'piece' | 'weight',
  shape: CutShapeCode | string,
): MeasureKind {
  if (column === 'weight') return 'mass'
  if (column === 'piece') return shape === 'plate' ? 'area' : 'long'
  return column === 'length' ? 'long' : 'small'
}

const FEET_AND_INCHES = /^(\d+)\s*['’]\s*-?\s*([\d\s/.]+)\s*["”]?$/

/** `25 mm`, `1 1/2"`, `6'`, `5'-6"` or a bare number: the number as text, and its unit. */
export function readMeasure(
  text: string,
  kind: MeasureKind,
  units: SheetUnits,
): { text: string; unit: string } {
  const trimmed = text.trim()
  const both = FEET_AND_INCHES.exec(trimmed)
  if (both) {
    const inches = wholeAndParts(both[2] ?? '')
    return {
      text: inches === null ? trimmed : String(Number(both[1]) * 12 + inches),
      unit: 'in',
    }
  }
  const parts = /^([\d.,/\s-]*\d[\d.,/]*)\s*([^\d\s].*)$/.exec(trimmed)
  const unit = parts ? unitOfSign(parts[2] ?? '') : null
  if (parts && unit) return { text: (parts[1] ?? '').trim(), unit }
  return { text: trimmed, unit: bareUnit(kind, units) }
}

/** `6`, `6.5`, `6 1/2`, `1/2`. */
function wholeAndParts(text: string): number | null {
  const trimmed = text.trim()
  if (/^\d+(\.\d+)?$/.test(trimmed)) return Number(trimmed)
  const parts = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(trimmed)
  if (!parts || Number(parts[3]) === 0) return null
  return Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3])
}
