export type DayOrder = 'day_first' | 'month_first'
export type TypedDate = Readonly<{ year: number; month: number; day: number | null }>

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const PARTED = /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{2}|\d{4})$/
/** Excel's day 1 is 1 January 1900, and it counts a 29 February 1900 that never was. */
const EXCEL_EPOCH_MS = Date.UTC(1899, 11, 30)
const DAY_MS = 86_400_000
const [FIRST_SERIAL_DAY, LAST_SERIAL_DAY] = [7_000, 80_000]

const fullYear = (text: string) => {
  const year = Number(text)
  return text.length === 4 ? year : year < 70 ? 2000 + year : 1900 + year
}

/** Which of two numbers is the day, told by the dates of a column: one past twelve decides. Null: nothing tells. */
export function dayOrderOf(cells: readonly string[]): DayOrder | null {
  for (const cell of cells) {
    const found = PARTED.exec(cell.trim())
    if (!found) continue
    if (Number(found[1]) > 12) return 'day_first'
    if (Number(found[2]) > 12) return 'month_first'
  }
  return null
}

function parts(text: string, order: DayOrder): TypedDate | null {
  const iso = /^(\d{4})[/.-](\d{1,2})(?:[/.-](\d{1,2}))?(?:[T ].*)?$/.exec(text)
  if (iso)
    return { year: Number(iso[1]), month: Number(iso[2]), day: iso[3] ? Number(iso[3]) : null }
  const parted = PARTED.exec(text)
  if (parted) {
    const [first, second] = [Number(parted[1]), Number(parted[2])]
    // One past twelve is the day whatever the column does.
    const isDayFirst = first > 12 || (order === 'day_first' && second <= 12)
    const year = fullYear(parted[3] ?? '')
    return isDayFirst ? { year, month: second, day: first } : { year, month: first, day: second }
  }
  const monthYear = /^(\d{1,2})[/.-](\d{2}|\d{4})$/.exec(text)
  if (monthYear)
    return { year: fullYear(monthYear[2] ?? ''), month: Number(monthYear[1]), day: null }
  const named =
    /^(?:(\d{1,2})[ .-]+)?([a-z]{3})[a-z]*\.?[ ,.-]+(?:(\d{1,2}),?[ ]+)?(\d{2}|\d{4})$/i.exec(text)
  const month = named ? MONTHS.indexOf((named[2] ?? '').toLowerCase()) + 1 : 0
  if (!named || month === 0) return null
  const day = named[1] ?? named[3]
  return { year: fullYear(named[4] ?? ''), month, day: day ? Number(day) : null }
}

/**
 * A date as people and spreadsheets write it; a month without a day is one too.
 *
 * @returns null for what is no date, a 31 February included
 */
export function readDate(typed: string, order: DayOrder): TypedDate | null {
  const text = typed.trim()
  if (/^\d{4,5}(?:\.\d+)?$/.test(text)) {
    const days = Math.floor(Number(text))
    if (days < FIRST_SERIAL_DAY || days > LAST_SERIAL_DAY) return null
    const date = new Date(EXCEL_EPOCH_MS + days * DAY_MS)
    return { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() }
  }
  const found = parts(text, order)
  if (!found || found.month < 1 || found.month > 12) return null
  const lastDay = new Date(Date.UTC(found.year, found.month, 0)).getUTCDate()
  return found.day !== null && (found.day < 1 || found.day > lastDay) ? null : found
}

const two = (value: number) => String(value).padStart(2, '0')
export const monthOf = ({ year, month }: TypedDate) => `${year}-${two(month)}`
/** A month without a day counts from its first. */
export const dayOf = (date: TypedDate) => `${monthOf(date)}-${two(date.day ?? 1)}`
