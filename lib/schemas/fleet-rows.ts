import { convert } from '@/lib/calc/units'
import type { FleetColumn, Heading } from './fleet-columns'
import { kilograms } from './measure'
import { type DayOrder, dayOf, dayOrderOf, monthOf, readDate } from './typed-date'

export type FleetSize = Readonly<{ id: string; gasId: string; name: string }>
export type Catalogue = Readonly<{
  sizes: readonly FleetSize[]
  suppliers: readonly Readonly<{ id: string; name: string }>[]
  areas: readonly Readonly<{ id: string; name: string }>[]
  /** The site's day. */
  today: string
}>

export type FleetRow = Readonly<{
  serial: string
  sizeId: string
  spec: string
  ownership: 'owned' | 'rented'
  supplierId: string | null
  isEmpty: boolean
  tareKg: number | null
  madeMonth: string | null
  testedOn: string | null
  dueMonth: string | null
  filledOn: string | null
  areaId: string | null
}>

export type CellFault = Readonly<{ column: FleetColumn; code: string; value: string }>
export type ReadRow = Readonly<{ row: FleetRow | null; faults: readonly CellFault[] }>

const GASES: Readonly<Record<string, string>> = {
  oxygen: 'oxygen',
  o2: 'oxygen',
  oxy: 'oxygen',
  ox: 'oxygen',
  acetylene: 'acetylene',
  c2h2: 'acetylene',
  acet: 'acetylene',
  propane: 'propane',
  lpg: 'propane',
  lp: 'propane',
  c3h8: 'propane',
  propylene: 'propylene',
  mps: 'mps',
  mapp: 'mps',
}
const EMPTY_WORDS = new Set(['empty', 'mt', 'e', 'leer', 'vide'])
const FULL_WORDS = new Set(['', 'full', 'f', 'ok', 'in stock', 'instock'])
const OWNED_WORDS = new Set(['owned', 'own', 'ours', 'yes', 'y', 'company'])
const RENTED_WORDS = new Set(['', 'rented', 'rental', 'rent', 'leased', 'no', 'n', 'supplier'])
const SERIAL = /^[A-Z0-9][A-Z0-9 ./-]{0,39}$/
/** Makers round their sizes: 244 is sold as 244, 245 and 250. House judgement, no source. */
const SAME_SIZE_SHARE = 0.03

const plain = (text: string) => text.trim().toLowerCase()

function sizeOf(typed: string, gasId: string, sizes: readonly FleetSize[]): string | null {
  const ofGas = sizes.filter((size) => size.gasId === gasId)
  const named = ofGas.find((size) => size.id === plain(typed) || plain(size.name) === plain(typed))
  if (named) return named.id
  const found = /^([\d.,]+)\s*(ft3|ft³|cf|cuft|cu\.? ?ft\.?|scf|m3|m³|lbs?|#|kg)?$/i.exec(
    typed.trim(),
  )
  if (!found) return null
  const value = Number((found[1] ?? '').replace(',', '.'))
  const unit = (found[2] ?? '').toLowerCase()
  const isMass = /lb|#|kg/.test(unit)
  const amount = unit.startsWith('m')
    ? convert({ value, from: 'm3', to: 'ft3' })
    : unit === 'kg'
      ? convert({ value, from: 'kg', to: 'lb' })
      : value
  const near = ofGas
    .map((size) => ({ id: size.id, ...soldAs(size.name) }))
    .filter((one) => unit === '' || one.isMass === isMass)
    .filter((one) => Math.abs(one.amount - amount) <= SAME_SIZE_SHARE * one.amount)
    .sort((a, b) => Math.abs(a.amount - amount) - Math.abs(b.amount - amount))
  return near[0]?.id ?? null
}

/** Sizes carry what they are sold by in their name: "244 ft³", "100 lb". */
function soldAs(name: string): { amount: number; isMass: boolean } {
  const found = /^([\d.]+) (ft³|lb)/.exec(name)
  return { amount: Number(found?.[1] ?? Number.NaN), isMass: found?.[2] === 'lb' }
}

function tareOf(typed: string, unit: Heading['unit']): number | null | 'wrong' | 'no_unit' {
  const text = typed.trim()
  if (text === '') return null
  const found = /^([\d.,]+)\s*(lbs?|kg|#)?\.?$/i.exec(text)
  const value = found ? Number((found[1] ?? '').replace(',', '.')) : Number.NaN
  if (!Number.isFinite(value) || value <= 0) return 'wrong'
  const said = found?.[2] ? (/kg/i.test(found[2]) ? 'kg' : 'lb') : unit
  return said === null ? 'no_unit' : kilograms(value, said)
}

const DATED = ['made', 'tested', 'due', 'filled'] as const
export type DayOrders = ReadonlyMap<FleetColumn, DayOrder>

/** Finds which of two numbers is the day in each column: its first date that tells decides for all. */
export function dayOrdersOf(headings: readonly Heading[]) {
  const orders = new Map<FleetColumn, DayOrder>()
  const dated = headings.filter(({ column }) => DATED.some((one) => one === column))
  return {
    orders: orders as DayOrders,
    see: (cells: readonly string[]) => {
      for (const { column, index } of dated) {
        const order = orders.has(column) ? null : dayOrderOf([cells[index] ?? ''])
        if (order) orders.set(column, order)
      }
    },
  }
}

/**
 * Reads rows one by one against the catalogue: what fits is a row, what does not names its cell, its
 * code and what it held. Of a file it keeps nothing but the serials that it saw.
 */
export function fleetReader(
  headings: readonly Heading[],
  catalogue: Catalogue,
  orders: DayOrders = new Map(),
) {
  const seen = new Map<string, number>()
  return (cells: readonly string[], line: number): ReadRow => {
    const reading = readRow({ headings, catalogue, orders, cells })
    const { serial } = reading.draft
    const isSerial = SERIAL.test(serial)
    const first = seen.get(serial)
    if (isSerial && first === undefined) seen.set(serial, line)
    if (first !== undefined) reading.fault('serial', 'CELL_TWICE', `${serial} (${first})`)
    const { supplierId, sizeId } = reading.draft
    return {
      faults: reading.faults,
      row:
        reading.faults.length > 0 || !sizeId
          ? null
          : { ...reading.draft, sizeId, supplierId: supplierId ?? null },
    }
  }
}

function readRow({
  headings,
  catalogue,
  orders,
  cells,
}: Readonly<{
  headings: readonly Heading[]
  catalogue: Catalogue
  orders: DayOrders
  cells: readonly string[]
}>) {
  const faults: CellFault[] = []
  const fault = (column: FleetColumn, code: string, value: string) => {
    faults.push({ column, code, value: value.slice(0, 60) })
  }
  const headingOf = (column: FleetColumn) => headings.find((one) => one.column === column)
  const cell = (column: FleetColumn) => {
    const heading = headingOf(column)
    return heading ? (cells[heading.index] ?? '').trim() : ''
  }
  const date = (column: (typeof DATED)[number]) => {
    const typed = cell(column)
    if (typed === '') return null
    const found = readDate(typed, orders.get(column) ?? 'month_first')
    if (!found) fault(column, 'CELL_NO_DATE', typed)
    else if (column !== 'due' && dayOf(found) > catalogue.today)
      fault(column, 'CELL_IN_FUTURE', typed)
    else return found
    return null
  }
  const word = <T>(
    column: FleetColumn,
    choices: readonly (readonly [ReadonlySet<string>, T])[],
    otherwise: T,
  ) => {
    const typed = cell(column)
    const found = choices.find(([words]) => words.has(plain(typed)))
    if (!found) fault(column, 'CELL_WORD', typed)
    return found ? found[1] : otherwise
  }
  const named = (
    column: 'supplier' | 'area',
    from: readonly Readonly<{ id: string; name: string }>[],
  ) => {
    const typed = cell(column)
    const found = from.find((one) => plain(one.name) === plain(typed))
    if (typed !== '' && !found) fault(column, 'CELL_UNKNOWN', typed)
    return found?.id ?? null
  }

  const serial = cell('serial').toUpperCase().replaceAll(/\s+/g, ' ')
  if (serial === '') fault('serial', 'CELL_EMPTY', '')
  else if (!SERIAL.test(serial)) fault('serial', 'CELL_NO_SERIAL', serial)
  const gasId = GASES[plain(cell('gas'))] ?? null
  if (!gasId) fault('gas', cell('gas') === '' ? 'CELL_EMPTY' : 'CELL_UNKNOWN', cell('gas'))
  const sizeId = gasId ? sizeOf(cell('size'), gasId, catalogue.sizes) : null
  if (gasId && !sizeId)
    fault('size', cell('size') === '' ? 'CELL_EMPTY' : 'CELL_UNKNOWN', cell('size'))
  const tare = tareOf(cell('tare'), headingOf('tare')?.unit ?? null)
  if (tare === 'wrong') fault('tare', 'CELL_NO_WEIGHT', cell('tare'))
  if (tare === 'no_unit') fault('tare', 'CELL_NO_UNIT', cell('tare'))
  const [made, tested, due, filled] = [date('made'), date('tested'), date('due'), date('filled')]
  if (made && tested && dayOf(tested) < monthOf(made))
    fault('tested', 'CELL_BEFORE_MADE', cell('tested'))
  if (tested && due && monthOf(due) <= monthOf(tested))
    fault('due', 'CELL_BEFORE_TEST', cell('due'))
  const isEmpty = word(
    'status',
    [
      [FULL_WORDS, false],
      [EMPTY_WORDS, true],
    ],
    false,
  )
  const isPast = due !== null && monthOf(due) < catalogue.today.slice(0, 7)
  if (isPast && !isEmpty && (!filled || monthOf(filled) > monthOf(due)))
    fault('due', 'CELL_PAST_DUE', cell('due'))
  return {
    faults,
    fault,
    draft: {
      serial,
      sizeId,
      spec: cell('spec').slice(0, 40),
      ownership: word<'owned' | 'rented'>(
        'ownership',
        [
          [OWNED_WORDS, 'owned'],
          [RENTED_WORDS, 'rented'],
        ],
        'rented',
      ),
      supplierId: named('supplier', catalogue.suppliers),
      isEmpty,
      tareKg: typeof tare === 'number' ? tare : null,
      madeMonth: made ? monthOf(made) : null,
      testedOn: tested ? dayOf(tested) : null,
      dueMonth: due ? monthOf(due) : null,
      filledOn: filled ? dayOf(filled) : null,
      areaId: named('area', catalogue.areas),
    },
  }
}
