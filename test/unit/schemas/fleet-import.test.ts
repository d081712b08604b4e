import fc from 'fast-check'
import seedrandom from 'seedrandom'
import { describe, expect, test } from 'vitest'
import { rowsOfCsvFile } from '@/lib/format/csv-rows'
import { csvCell, csvRows, delimiterOf, encodingOf, textOf } from '@/lib/schemas/csv-text'
import { headingsOf } from '@/lib/schemas/fleet-columns'
import { type Catalogue, dayOrdersOf, fleetReader } from '@/lib/schemas/fleet-rows'
import { dayOf, dayOrderOf, monthOf, readDate } from '@/lib/schemas/typed-date'

const CATALOGUE: Catalogue = {
  sizes: [
    { id: 'oxygen-244', gasId: 'oxygen', name: '244 ft³' },
    { id: 'oxygen-122', gasId: 'oxygen', name: '122 ft³' },
    { id: 'acetylene-130', gasId: 'acetylene', name: '130 ft³' },
    { id: 'propane-100', gasId: 'propane', name: '100 lb' },
  ],
  suppliers: [{ id: 's1', name: 'Müller Gase' }],
  areas: [{ id: 'a1', name: 'Bay 2' }],
  today: '2026-04-10',
}
const HEAD =
  'Serial No.;Gas;Size;Spec;Owned/Rented;Supplier;Full/Empty;Tare (lb);Mfg. date;Last hydro;Hydro due;Fill date;Location'

describe('the bytes of a file', () => {
  // RFC 4180 §2: quotes, doubled quotes, line breaks and delimiters inside quotes.
  test('are cells after RFC 4180', () => {
    expect(csvRows('a,"b ""x"", c",d\r\n"two\nlines",,\r\n')).toEqual([
      ['a', 'b "x", c', 'd'],
      ['two\nlines', '', ''],
    ])
    expect(delimiterOf('a;"b,c,d";e')).toBe(';')
  })

  test('come back from what is written, and no cell is a formula', () => {
    expect(csvRows([csvCell('a"b'), csvCell(7), csvCell(null)].join(','))).toEqual([
      ['a"b', '7', ''],
    ])
    expect(csvCell('=1+1')).toBe(`"'=1+1"`)
  })

  test('are letters in whatever encoding they came, line by line where it changes', () => {
    const utf8 = new TextEncoder().encode('Müller\n')
    const latin = Uint8Array.from([...'M\u00fcller\n'].map((letter) => letter.charCodeAt(0)))
    const utf16 = Uint8Array.from([0xff, 0xfe, ...[...'Mü'].flatMap((l) => [l.charCodeAt(0), 0])])
    expect(encodingOf(utf8)).toBe('utf-8')
    expect(textOf(utf16)).toBe('Mü')
    expect(textOf(Uint8Array.from([...utf8, ...latin]))).toBe('Müller\nMüller\n')
  })

  test('are the same cells in whatever pieces they come', async () => {
    const cell = fc
      .array(fc.constantFrom('a', 'ü', '"', ';', '\r\n', '\n', ' ', '€', ','), { maxLength: 6 })
      .map((signs) => signs.join(''))
    const rows = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { maxLength: 8 })
    const end = fc.constantFrom('\n', '\r\n')
    const size = fc.integer({ min: 1, max: 9 })
    await fc.assert(
      fc.asyncProperty(rows, end, size, fc.boolean(), async (body, lineEnd, cut, isWide) => {
        const all = [['Serial', 'Gas'], ...body]
        const text = all
          .map((row) => row.map((one) => `"${one.replaceAll('"', '""')}"`).join(';'))
          .join(lineEnd)
        const utf16 = [...`\uFEFF${text}`].flatMap((l) => [
          l.charCodeAt(0) & 255,
          l.charCodeAt(0) >> 8,
        ])
        const bytes = isWide ? Uint8Array.from(utf16) : new TextEncoder().encode(text)
        const pieces = async function* () {
          for (let at = 0; at < bytes.length; at += cut) yield bytes.subarray(at, at + cut)
        }
        const found: string[][] = []
        for await (const row of rowsOfCsvFile(pieces())) found.push(row)
        const kept = all.map((row) => row.map((one) => one.replaceAll('\r\n', '\n')))
        expect(csvRows(textOf(bytes))).toEqual(kept)
        expect(found).toEqual(kept)
      }),
      { numRuns: 300 },
    )
  })

  test('keep inch signs and dittos, whose quotes do not pair', () => {
    expect(csvRows('Size,Note\n"3/8,loose\n1/2",x\n",y')).toEqual([
      ['Size', 'Note'],
      ['"3/8', 'loose'],
      ['1/2"', 'x'],
      ['"', 'y'],
    ])
  })
})

describe('a date as people write it', () => {
  test.each([
    ['2024-03-15', '2024-03-15'],
    ['3/15/2024', '2024-03-15'],
    ['15.03.2024', '2024-03-15'],
    ['3/4/24', '2024-03-04'],
    ['Mar 2024', '2024-03-01'],
    ['15 March 2024', '2024-03-15'],
    ['March 15, 2024', '2024-03-15'],
    ['03/24', '2024-03-01'],
    ['45366', '2024-03-15'], // the day 45366 of a spreadsheet: 15 March 2024
    ['45366.5', '2024-03-15'],
  ])('%s is %s', (typed, day) => {
    const found = readDate(typed, 'month_first')
    expect(found && dayOf(found)).toBe(day)
  })
  test.each(['31/02/2024', '2024-13-01', 'soon', '0/0/00', '99999'])('%s is none', (typed) => {
    expect(readDate(typed, 'month_first')).toBeNull()
  })
  test('puts the day where the column’s other dates show that it stands', () => {
    expect(dayOrderOf(['3/4/24', '25/4/24'])).toBe('day_first')
    expect(dayOrderOf(['3/4/24', '4/25/24'])).toBe('month_first')
    expect(dayOrderOf(['3/4/24'])).toBeNull()
    const found = readDate('3/4/24', 'day_first')
    expect(found && monthOf(found)).toBe('2024-04')
  })
})

describe('a messy file of 2,000 rows', () => {
  const goodRow = (n: number) => [
    `KW-${n}`,
    'Oxygen',
    '244 cf',
    'DOT 3AA2265',
    'owned',
    '',
    'full',
    '121',
    '3/2015',
    '3/15/2024',
    '03/2029',
    '4/1/2026',
    'Bay 2',
  ]
  /** Each spoils one cell of a good row, and what the preview must say of it. */
  const SPOILS: readonly (readonly [string, number, string, string])[] = [
    ['serial', 0, '', 'CELL_EMPTY'],
    ['serial', 0, '¿?', 'CELL_NO_SERIAL'],
    ['gas', 1, 'Sauerstoff?', 'CELL_UNKNOWN'],
    ['size', 2, '999 cf', 'CELL_UNKNOWN'],
    ['ownership', 4, 'maybe', 'CELL_WORD'],
    ['supplier', 5, 'Nobody & Sons', 'CELL_UNKNOWN'],
    ['status', 6, 'half', 'CELL_WORD'],
    ['tare', 7, 'heavy', 'CELL_NO_WEIGHT'],
    ['tested', 9, '2/31/2024', 'CELL_NO_DATE'],
    ['tested', 9, '3/15/2099', 'CELL_IN_FUTURE'],
    ['due', 10, '02/2024', 'CELL_BEFORE_TEST CELL_PAST_DUE'],
    ['area', 12, 'The moon', 'CELL_UNKNOWN'],
  ]
  /** Written otherwise, and meaning the same. */
  const SAME: readonly (readonly [number, string])[] = [
    [1, 'o2'],
    [2, '6.9 m3'],
    [2, '250'],
    [4, 'rented'],
    [5, 'Müller Gase'],
    [6, 'MT'],
    [7, '55 kg'],
    [9, '2024-03-15'],
    [9, '45366'],
    [10, 'Mar 2029'],
  ]
  const draw = seedrandom('messy fleet')
  const expected = new Map<number, string[]>()
  const lines = Array.from({ length: 2_000 }, (_, i) => {
    const cells = goodRow(100_000 + i)
    const fate = draw()
    if (fate < 0.15) {
      const [column, at, text, code] = SPOILS[Math.floor(draw() * SPOILS.length)]!
      cells[at] = text
      expected.set(
        i,
        code.split(' ').map((one) => `${column} ${one}`),
      )
    } else if (fate < 0.2 && i > 0 && !expected.has(i - 1)) {
      cells[0] = `KW-${100_000 + i - 1}`
      expected.set(i, ['serial CELL_TWICE'])
    } else if (fate < 0.6) {
      const [at, text] = SAME[Math.floor(draw() * SAME.length)]!
      cells[at] = text
    }
    return cells.map((cell) => (/[;"]/.test(cell) ? `"${cell}"` : cell)).join(';')
  })
  // Half the file as one program writes it, half as another does.
  const bytes = Uint8Array.from([
    ...new TextEncoder().encode(`${[HEAD, ...lines.slice(0, 1_000)].join('\r\n')}\r\n`),
    ...[...lines.slice(1_000).join('\r\n')].map((letter) => letter.charCodeAt(0)),
  ])

  test('names every bad row and cell, and takes every other', () => {
    const [head = [], ...rows] = csvRows(textOf(bytes))
    const headings = headingsOf(head)
    expect(headings).toHaveLength(13)
    const { orders, see } = dayOrdersOf(headings)
    for (const cells of rows) see(cells)
    const read = fleetReader(headings, CATALOGUE, orders)
    const found = new Map<number, string[]>()
    const taken = rows.map((cells, i) => {
      const { row, faults } = read(cells, i + 2)
      if (faults.length > 0)
        found.set(
          i,
          faults.map(({ column, code }) => `${column} ${code}`),
        )
      expect(row === null).toBe(faults.length > 0)
      return row
    })
    expect(rows).toHaveLength(2_000)
    expect(found).toEqual(expected)
    const rest = taken.filter((row) => row !== null)
    expect(rest).toHaveLength(2_000 - expected.size)
    expect(new Set(rest.map((row) => row.sizeId))).toEqual(new Set(['oxygen-244']))
    expect(new Set(rest.map((row) => row.dueMonth))).toEqual(new Set(['2029-03']))
    expect(new Set(rest.map((row) => row.supplierId))).toEqual(new Set([null, 's1']))
    // 121 lb is 54.8847 kg (1 lb = 0.45359237 kg, exact)
    expect(rest.some((row) => Math.abs((row.tareKg ?? 0) - 54.884_676_77) < 1e-9)).toBe(true)
    expect(rest.some((row) => row.tareKg === 55)).toBe(true)
  })

  test('asks for the unit of a weight that says none', () => {
    const rows = [['A1234', 'O2', '244', '54']]
    const read = fleetReader(headingsOf(['serial', 'gas', 'size', 'tare']), CATALOGUE)
    expect(read(rows[0]!, 2).faults).toEqual([
      { column: 'tare', code: 'CELL_NO_UNIT', value: '54' },
    ])
  })
})
