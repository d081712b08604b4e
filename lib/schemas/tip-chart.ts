import { z } from 'zod'
import { MATERIAL_CODES } from '../calc/materials'
import { numberDrillIn } from '../calc/tables/number-drills'
import type { TipChartRow } from '../calc/tables/tip-chart'
import { convert, type Unit } from '../calc/units'
import { csvRows } from './csv-text'
import { CUT_FUELS } from './cut'
import { clientKey, idField, requiredText } from './fields'
import { splitPasted } from './sheet-paste'

/** Columns of a chart, in the order in which rows without a head are read. */
export const CHART_COLUMNS = [
  'thickness',
  'tip',
  'orifice',
  'speed',
  'oxygen',
  'fuel',
  'oxygenPressure',
  'fuelPressure',
] as const
type ChartColumn = (typeof CHART_COLUMNS)[number]
/** A column that holds a number or a range of them. */
type Figure = Exclude<ChartColumn, 'tip'>

const MOST_CHART_ROWS = 60

/** What people write over a column. Common practice, no source. */
const HEADS: Readonly<Record<ChartColumn, readonly string[]>> = {
  thickness: ['thickness', 'plate', 'metal', 'steel', 'thick', 'thk'],
  tip: ['tip', 'tip no', 'tip number', 'tip size', 'nozzle', 'no'],
  orifice: ['orifice', 'hole', 'bore', 'drill', 'cutting orifice'],
  speed: ['speed', 'cutting speed', 'travel'],
  oxygen: ['oxygen', 'oxygen flow', 'cutting oxygen', 'oxygen use', 'o2'],
  fuel: ['fuel', 'fuel flow', 'fuel use', 'acetylene', 'propane', 'gas'],
  oxygenPressure: ['oxygen pressure', 'o2 pressure', 'cutting oxygen pressure'],
  fuelPressure: ['fuel pressure', 'acetylene pressure', 'propane pressure', 'gas pressure'],
}

/** The units that lib/calc keeps a chart in, those of the print, and what else a head may name. */
const UNIT_OF: Readonly<Record<Figure, Unit>> = {
  thickness: 'in',
  orifice: 'in',
  speed: 'in/min',
  oxygen: 'ft3/h',
  fuel: 'ft3/h',
  oxygenPressure: 'psi',
  fuelPressure: 'psi',
}
const UNIT_SIGNS: Readonly<Record<string, Unit>> = {
  in: 'in',
  '"': 'in',
  mm: 'mm',
  'in/min': 'in/min',
  ipm: 'in/min',
  'mm/min': 'mm/min',
  'ft3/h': 'ft3/h',
  'ft³/h': 'ft3/h',
  cfh: 'ft3/h',
  scfh: 'ft3/h',
  'm3/h': 'm3/h',
  'm³/h': 'm3/h',
  psi: 'psi',
  psig: 'psi',
  kpa: 'kPa',
  bar: 'bar',
}

/** More than any chart holds: a slip of the unit. House judgement, no source. */
const MOST: Readonly<Record<Figure, number>> = {
  thickness: 40,
  orifice: 0.5,
  speed: 200,
  oxygen: 5000,
  fuel: 1000,
  oxygenPressure: 200,
  fuelPressure: 100,
}

export type ChartProblem = Readonly<{
  /** From 0, as pasted, its head left out. */
  row: number
  column: ChartColumn
  code: string
  value: string
}>

type ReadChart = Readonly<{
  rows: readonly TipChartRow[]
  problems: readonly ChartProblem[]
  unknownHeads: readonly string[]
  hasHead: boolean
}>

type Fuel = (typeof CUT_FUELS)[number]
type Place = Readonly<{ column: ChartColumn | null; unit: Unit | null; head: string }>

function placeOf(text: string): Place {
  const parts = /^([^(,[]*)(?:[(,[]\s*([^)\]]*?)\s*[)\]]?)?\s*$/.exec(text.trim().toLowerCase())
  const name = (parts?.[1] ?? '').replace(/[._]+/g, ' ').replace(/\s+/g, ' ').trim()
  const column = CHART_COLUMNS.find((one) => HEADS[one].includes(name)) ?? null
  return { column, unit: UNIT_SIGNS[parts?.[2] ?? ''] ?? null, head: text.trim() }
}

/** Lines of a chart: tabs, or the commas of a CSV file. */
function linesOf(text: string): string[][] {
  return text.includes('\t')
    ? splitPasted(text)
    : csvRows(text, ',').filter((row) => row.some((cell) => cell.trim()))
}

const NUMBER = String.raw`(?:\d+[\s-]+)?\d+\/\d+|\d*\.?\d+`
const RANGE = new RegExp(String.raw`^(${NUMBER})(?:\s*(?:–|—|\bto\b|-)\s*(${NUMBER}))?$`)

function numberOf(text: string): number {
  const parts = /^(?:(\d+)[\s-]+)?(\d+)\/(\d+)$/.exec(text)
  return parts ? Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3]) : Number(text)
}

/** `16-32`, `16 to 32`, `3/8` or one number, which is a range of no width. */
function rangeOf(text: string): readonly [number, number] | null {
  const found = RANGE.exec(text.trim().replace(/\s*["”]$/, ''))
  if (!found?.[1]) return null
  const low = numberOf(found[1])
  return [low, found[2] === undefined ? low : numberOf(found[2])]
}

type Cell = { ok: true; value: readonly [number, number] | null } | { ok: false; code: string }

/** `#53` or `No. 53 drill`: a tip by the drill that made its hole. */
const DRILL = /^(?:#|no\.?|drill)\s*(\d+)(?:\s*drill)?$/i

function drilled(text: string): Cell | null {
  const number = DRILL.exec(text.trim())?.[1]
  if (number === undefined) return null
  const inches = numberDrillIn(Number(number))
  return inches === null ? { ok: false, code: 'NO_DRILL' } : { ok: true, value: [inches, inches] }
}

function readFigure(text: string, { column, unit }: { column: Figure; unit: Unit | null }): Cell {
  if (text.trim() === '') return { ok: true, value: null }
  const byDrill = column === 'orifice' ? drilled(text) : null
  if (byDrill) return byDrill
  const range = rangeOf(text)
  if (!range) return { ok: false, code: 'ENTER_A_RANGE' }
  const to = UNIT_OF[column]
  const [low = 0, high = 0] = range.map((value) => convert({ value, from: unit ?? to, to }))
  if (!(low > 0)) return { ok: false, code: 'NOT_POSITIVE' }
  if (high < low) return { ok: false, code: 'LOW_OVER_HIGH' }
  return high > MOST[column] ? { ok: false, code: 'TOO_LARGE' } : { ok: true, value: [low, high] }
}

const NEEDED: readonly Figure[] = ['thickness', 'speed', 'oxygen', 'fuel']

/** One line: its row where it is whole, and each cell that has something to put right. */
function readLine(cells: readonly string[], places: readonly Place[], row: number, fuel: Fuel) {
  const problems: ChartProblem[] = []
  const figures: Partial<Record<Figure, readonly [number, number]>> = {}
  let tip = ''
  const textOf = (column: ChartColumn) => {
    const at = places.findIndex((place) => place.column === column)
    return at < 0 ? '' : (cells[at] ?? '').trim()
  }
  for (const column of CHART_COLUMNS) {
    const text = textOf(column)
    if (column === 'tip') {
      tip = text
      if (text.length > 20) problems.push({ row, column, code: 'TOO_LONG', value: text })
      continue
    }
    const unit = places.find((place) => place.column === column)?.unit ?? null
    const read = readFigure(text, { column, unit })
    if (!read.ok) problems.push({ row, column, code: read.code, value: text })
    else if (read.value) figures[column] = read.value
    else if (NEEDED.includes(column)) problems.push({ row, column, code: 'REQUIRED', value: '' })
  }
  const { thickness, speed, oxygen, fuel: fuelFlow, orifice } = figures
  if (thickness && thickness[0] !== thickness[1])
    problems.push({ row, column: 'thickness', code: 'ONE_NUMBER', value: textOf('thickness') })
  if (!thickness || !speed || !oxygen || !fuelFlow) return { problems, chartRow: null }
  const chartRow: TipChartRow = {
    thicknessIn: thickness[0],
    ...(tip ? { tip } : {}),
    orificeIn: orifice ?? null,
    speedInPerMin: speed,
    cuttingOxygenFt3PerH: oxygen,
    fuelFt3PerH: { [fuel]: fuelFlow },
    ...(figures.oxygenPressure ? { oxygenPsig: figures.oxygenPressure } : {}),
    ...(figures.fuelPressure ? { fuelPsig: { [fuel]: figures.fuelPressure } } : {}),
  }
  return { problems, chartRow }
}

/** Thickness rises from row to row: the calculation reads between neighbours. */
function orderProblems(rows: readonly (TipChartRow | null)[]): ChartProblem[] {
  return rows.flatMap((row, index) => {
    const before = rows.slice(0, index).findLast((one) => one !== null)
    return row && before && row.thicknessIn <= before.thicknessIn
      ? [
          {
            row: index,
            column: 'thickness' as const,
            code: 'NOT_RISING',
            value: String(row.thicknessIn),
          },
        ]
      : []
  })
}

/**
 * Reads a chart typed or pasted as rows, or from a CSV file.
 *
 * @param text a line a thickness; a head may name the columns and their units, else the order and units of the sheet hold
 * @param fuel that its fuel column is for
 * @returns the rows that are whole, every cell with something to put right, and heads that are no column of ours
 */
export function readChart(text: string, fuel: Fuel): ReadChart {
  const [first = [], ...others] = linesOf(text)
  const named = first.map(placeOf)
  const hasHead =
    named.filter((place) => place.column !== null).length >= 2 && !/^\s*[\d.]/.test(first[0] ?? '')
  const places: readonly Place[] = hasHead
    ? named
    : CHART_COLUMNS.map((column) => ({ column, unit: null, head: '' }))
  const lines = (hasHead ? others : [first, ...others]).filter((line) => line.length > 0)
  const read = lines.map((line, row) => readLine(line, places, row, fuel))
  const rows = read.map((one) => one.chartRow)
  return {
    rows: rows.filter((row) => row !== null),
    problems: [...read.flatMap((one) => one.problems), ...orderProblems(rows)],
    unknownHeads: hasHead
      ? named.filter((place) => !place.column && place.head).map((place) => place.head)
      : [],
    hasHead,
  }
}

const range = z.tuple([z.number().positive(), z.number().positive()]).readonly()
const byFuel = z.partialRecord(z.enum(CUT_FUELS), range)

/** What `tip_charts.rows` holds; checked again when it is read. */
export const chartRowsSchema: z.ZodType<readonly TipChartRow[]> = z
  .array(
    z.strictObject({
      thicknessIn: z.number().positive(),
      tip: z.string().max(20).exactOptional(),
      orificeIn: range.nullable(),
      speedInPerMin: range,
      cuttingOxygenFt3PerH: range,
      fuelFt3PerH: byFuel,
      oxygenPsig: range.exactOptional(),
      fuelPsig: byFuel.exactOptional(),
    }),
  )
  .min(2)
  .max(MOST_CHART_ROWS)
export const chartMaterialsSchema = z.array(z.enum(MATERIAL_CODES)).min(1)

/** A shop's own chart as it is saved: every row is read again here. */
export const saveChartSchema = z
  .object({
    key: clientKey,
    siteId: idField,
    title: requiredText(80),
    source: requiredText(300),
    fuel: z.enum(CUT_FUELS, 'CHOOSE_ONE'),
    material: z.enum(MATERIAL_CODES, 'CHOOSE_ONE'),
    replacesId: z.union([z.literal(''), z.uuid()]).optional(),
    rows: z.string(),
  })
  .transform(({ material, replacesId, rows: text, ...chart }, context) => {
    const { rows, problems } = readChart(text, chart.fuel)
    for (const { row, column, code } of problems)
      context.addIssue({ code: 'custom', path: ['rows', row, column], message: code })
    if (problems.length === 0 && rows.length < 2)
      context.addIssue({ code: 'custom', path: ['rows'], message: 'TWO_ROWS' })
    if (rows.length > MOST_CHART_ROWS)
      context.addIssue({ code: 'custom', path: ['rows'], message: 'TOO_MANY_ROWS' })
    return { ...chart, materials: [material], replacesId: replacesId || null, rows }
  })
export type SaveChartInput = z.output<typeof saveChartSchema>

export const retireChartSchema = z.object({ key: clientKey, chartId: z.uuid() })
export type RetireChartInput = z.output<typeof retireChartSchema>

export const chooseChartSchema = z.object({
  key: clientKey,
  outfitId: z.uuid(),
  chartId: z.union([z.literal(''), z.uuid()]).transform((id) => id || null),
})
export type ChooseChartInput = z.output<typeof chooseChartSchema>
