import { inflateRawSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { type AuditPaper, auditPdf } from '@/app/api/audit/pdf/audit-pdf'
import { workbookOf } from '@/lib/format/workbook'
import { pdfText } from '../../setup/pdf-text'

/** Files of a zip archive by name, read by its local headers (APPNOTE 4.3.7). */
function unzip(archive: Buffer): Map<string, string> {
  const files = new Map<string, string>()
  const end = archive.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'))
  let at = archive.readUInt32LE(end + 16)
  for (let left = archive.readUInt16LE(end + 10); left > 0; left -= 1) {
    const [method, size] = [archive.readUInt16LE(at + 10), archive.readUInt32LE(at + 20)]
    const nameLength = archive.readUInt16LE(at + 28)
    const local = archive.readUInt32LE(at + 42)
    const name = archive.toString('utf8', at + 46, at + 46 + nameLength)
    const from = local + 30 + archive.readUInt16LE(local + 26) + archive.readUInt16LE(local + 28)
    const packed = archive.subarray(from, from + size)
    files.set(name, (method === 8 ? inflateRawSync(packed) : packed).toString('utf8'))
    at += 46 + nameLength + archive.readUInt16LE(at + 30) + archive.readUInt16LE(at + 32)
  }
  return files
}

/** Words of a PDF's pages as a search finds them, and how many pages there are. */
const wordsOf = (pdf: Buffer) => ({
  text: pdfText(pdf),
  pages: [...pdf.toString('latin1').matchAll(/\/Type \/Page\b(?!s)/g)].length,
})

const paper = (rows: number): AuditPaper => ({
  title: 'Gas audit',
  lines: ['Ferrow Dunn Cutting', 'Oxygen, jobs of the last 90 days.'],
  tables: [
    {
      title: 'Oxygen, job by job',
      columns: [
        { head: 'Job', share: 0.3 },
        { head: 'Used, ft³', share: 0.7, isFigure: true },
      ],
      rows: Array.from({ length: rows }, (_, i) => [`J${i}`, `1,284 (1,241–1,327) ±${i}`]),
    },
  ],
  appendix: { title: 'Methods and sources', paragraphs: ['Use. First reading less last.'] },
  foot: 'Nine times in ten.',
  page: (n, of) => `Page ${n} of ${of}`,
})

describe('the paper of an audit', () => {
  test('holds its title, every row, the appendix and the count of its pages', async () => {
    const { text, pages } = wordsOf(await auditPdf(paper(120)))
    expect(pages).toBeGreaterThan(2)
    for (const words of ['Gas audit', 'Methods and sources', 'Use. First reading less last.'])
      expect(text).toContain(words)
    for (const row of [0, 60, 119]) expect(text).toContain(`J${row}`)
    for (let page = 1; page <= pages; page += 1) expect(text).toContain(`Page ${page} of ${pages}`)
    // The head stands again over the rows of every page that the table goes on to.
    expect(text.split('Used, ft³').length - 1).toBe(pages - 1)
  })

  test('writes crews, sites and people in Polish, Greek and Cyrillic letters as they are', async () => {
    const names = ['Załoga Żurawia', 'Ναυπηγείο Σύρου', 'Бригада Їжака', '−4 (−9–1) ÷ 2']
    const { text } = wordsOf(
      await auditPdf({
        ...paper(0),
        lines: names,
        tables: [
          { title: 'Ł', columns: [{ head: 'Ωμέγα', share: 1 }], rows: names.map((name) => [name]) },
        ],
      }),
    )
    for (const name of [...names, 'Ł', 'Ωμέγα']) expect(text.split('\n')).toContain(name)
  })

  test('without jobs is a page and its appendix', async () => {
    expect(wordsOf(await auditPdf(paper(0))).pages).toBe(2)
  })
})

describe('the workbook of an audit', () => {
  test('keeps numbers as numbers, and words as words whatever sign they begin with', async () => {
    const book = await workbookOf([
      {
        name: 'Jobs',
        head: ['Job', 'Used, kg'],
        rows: [
          ['=1+1', 12.3456],
          ['0391', null],
        ],
      },
      { name: 'Methods', head: ['Methods'], rows: [['Use. First less last.']] },
    ])
    const files = unzip(book)
    const sheet = files.get('xl/worksheets/sheet1.xml') ?? ''
    expect(sheet).toContain('<v>12.3456</v>')
    expect(sheet).not.toContain('<f>')
    const words = [...files.values()].join('')
    for (const text of ['=1+1', '0391', 'Used, kg', 'Use. First less last.'])
      expect(words).toContain(text)
    expect(files.get('xl/workbook.xml')).toMatch(/name="Jobs"[\s\S]*name="Methods"/)
  })
})
