import type { Unit } from '../calc/units'
import { type CutShapeCode, isByArea, type MeasureKind } from './cut-shapes'

/** What a measure is taken for when its cell names no unit: the person's own. */
export type SheetUnits = 'us' | 'si'

const DEFAULT_UNITS: Readonly<Record<SheetUnits, Readonly<Record<MeasureKind, Unit>>>> = {
  us: {
    small: 'in',
    long: 'ft',
    area: 'ft2',
    mass: 'lb',
    flow: 'ft3/h',
    speed: 'in/min',
    areaRate: 'ft2/h',
  },
  si: {
    small: 'mm',
    long: 'm',
    area: 'm2',
    mass: 'kg',
    flow: 'm3/h',
    speed: 'mm/min',
    areaRate: 'm2/h',
  },
}

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
  cfh: 'ft3/h',
  scfh: 'ft3/h',
  'ft3/h': 'ft3/h',
  'ft³/h': 'ft3/h',
  'm3/h': 'm3/h',
  'm³/h': 'm3/h',
  ipm: 'in/min',
  'in/min': 'in/min',
  'mm/min': 'mm/min',
  'ft2/h': 'ft2/h',
  'ft²/h': 'ft2/h',
  'm2/h': 'm2/h',
  'm²/h': 'm2/h',
}

export const unitOfSign = (sign: string): string | null =>
  UNIT_OF_SIGN[sign.trim().toLowerCase().replace(/\.$/, '')] ?? null

/** The unit that a bare number of this kind is in. */
export const bareUnit = (kind: MeasureKind, units: SheetUnits): Unit => DEFAULT_UNITS[units][kind]

/** Columns whose cells are measures. */
export const MEASURE_COLUMNS = [
  'thickness',
  'width',
  'length',
  'piece',
  'weight',
  'along',
  'into',
  'ownOxygen',
  'ownFuel',
  'ownRate',
] as const
export type MeasureColumn = (typeof MEASURE_COLUMNS)[number]
export const isMeasureColumn = (column: string): column is MeasureColumn =>
  (MEASURE_COLUMNS as readonly string[]).includes(column)

/** Which kind of measure a column holds for a shape: a piece of plate is an area, of all else a length. */
export function kindOf(column: MeasureColumn, shape: CutShapeCode | ''): MeasureKind {
  const isArea = shape !== '' && isByArea(shape)
  switch (column) {
    case 'weight':
      return 'mass'
    case 'piece':
      return shape === 'plate' ? 'area' : 'long'
    case 'length':
      return isArea ? 'area' : 'long'
    case 'ownOxygen':
    case 'ownFuel':
      return 'flow'
    case 'ownRate':
      return isArea ? 'areaRate' : 'speed'
    default:
      return 'small'
  }
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
