import { expect, test } from 'vitest'
import { PDF_COLUMNS, plainPdf } from '@/lib/format/plain-pdf'

const textOf = (lines: readonly string[]) => String.fromCharCode(...plainPdf(lines))

// ISO 32000-1, 7.5.4: each row of the table is 20 bytes long and gives the offset of its object.
test('every offset of the table is that of its object', () => {
  const file = textOf(Array.from({ length: 200 }, (_, i) => `line ${i}`))
  const tableAt = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(file)?.[1])
  expect(file.slice(tableAt, tableAt + 5)).toBe('xref\n')
  const rows = [...file.slice(tableAt).matchAll(/(\d{10}) 00000 n \n/g)]
  expect(rows.length).toBeGreaterThan(6)
  for (const [i, [row, offset]] of rows.entries()) {
    expect(row).toHaveLength(20)
    expect(file.slice(Number(offset)).startsWith(`${i + 1} 0 obj\n`)).toBe(true)
  }
  expect(file).toContain(`/Size ${rows.length + 1} `)
})

test('each stream is as long as it says', () => {
  const file = textOf(['244 ft³ (oxygen) \\ 50 %', 'Marrowby’s depot'])
  const [, length, content] = /\/Length (\d+) >>\nstream\n([\s\S]*?)\nendstream/.exec(file) ?? []
  expect(content).toHaveLength(Number(length))
  // WinAnsi: the cube is 263 octal, the apostrophe 222.
  expect(content).toContain('(244 ft\\263 \\(oxygen\\) \\\\ 50 %) Tj')
  expect(content).toContain('(Marrowby\\222s depot) Tj')
})

test('lines that do not fit a page go on on the next, and none runs past the edge', () => {
  const file = textOf(['x'.repeat(PDF_COLUMNS + 20), ...new Array<string>(60).fill('y')])
  expect(file).toContain('/Count 2 ')
  expect(file).toContain(`(${'x'.repeat(PDF_COLUMNS)}) Tj`)
})
