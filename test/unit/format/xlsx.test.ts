import fc from 'fast-check'
import { strToU8, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { workbookOf } from '@/lib/format/workbook'
import { isXlsx, rowsOfXlsx } from '@/lib/format/xlsx'

/** All rows of a file that comes in pieces of so many bytes. */
async function rowsIn(bytes: Uint8Array, size = 1_000) {
  const rows: string[][] = []
  const open = async function* () {
    for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
  }
  for await (const row of rowsOfXlsx(open)) rows.push(row)
  return rows
}

test('a workbook gives back what was written into it', async () => {
  // write-excel-file 4.1.1 loses a cell that reads "toString" or another name that every object has.
  const letters = fc
    .string({ unit: 'grapheme-ascii', minLength: 1, maxLength: 20 })
    .filter((text) => !(text in {}))
  const size = fc.integer({ min: 1, max: 5_000 })
  const line = fc.array(letters, { minLength: 3, maxLength: 3 })
  await fc.assert(
    fc.asyncProperty(line, fc.array(line, { maxLength: 8 }), size, async (head, rows, cut) => {
      const bytes = await workbookOf([{ name: 'List', head, rows }])
      expect(isXlsx(bytes)).toBe(true)
      expect(await rowsIn(bytes, cut)).toEqual([head, ...rows])
    }),
    { numRuns: 60 },
  )
})

// The shape of ECMA-376 part 1, §18.3.1.4 (cells, with gaps) and §18.4.8 (shared strings, rich text).
test('reads shared strings, numbers, and cells that are left out', async () => {
  const sheet =
    '<worksheet><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="C1" t="s"><v>1</v></c></row><row r="2"/><row r="3"><c r="B3"><v>45366</v></c></row></sheetData></worksheet>'
  const strings =
    '<sst><si><t>Serial &amp; no.</t></si><si><r><t>Ta</t></r><r><t xml:space="preserve">re </t></r></si></sst>'
  const bytes = zipSync({
    'xl/worksheets/sheet1.xml': strToU8(sheet),
    'xl/sharedStrings.xml': strToU8(strings),
  })
  expect(await rowsIn(bytes)).toEqual([['Serial & no.', '', 'Tare '], [], ['', '45366']])
})

test('is not fooled by what is no workbook', async () => {
  await expect(rowsIn(strToU8('PK nothing'))).rejects.toThrow()
  await expect(rowsIn(zipSync({ 'other.xml': strToU8('<a/>') }))).rejects.toThrow('no sheet')
})
