import PdfDocument from 'pdfkit'
import { type PdfFont, pdfFont } from '@/lib/format/pdf-fonts'

export type PdfTable = Readonly<{
  title: string
  /** Share of the width, and whether figures stand at the right. */
  columns: readonly Readonly<{ head: string; share: number; isFigure?: boolean }>[]
  rows: readonly (readonly string[])[]
}>

export type AuditPaper = Readonly<{
  title: string
  /** Company, sites and period, who made it and when. */
  lines: readonly string[]
  tables: readonly PdfTable[]
  appendix: Readonly<{ title: string; paragraphs: readonly string[] }>
  foot: string
  page: (n: number, of: number) => string
}>

/** Points: 14 mm round the sheet, type of 8.5 points or more. */
const MARGIN = 40
const FOOT = 28
const SMALL = 8.5
const ROW_GAP = 5
const HEAD_GAP = 16
type Doc = InstanceType<typeof PdfDocument>

const bottomOf = (doc: Doc) => doc.page.height - MARGIN - FOOT
const widthOf = (doc: Doc) => doc.page.width - 2 * MARGIN

/** Letter paper in black: tables whose rows never split, an appendix, page n of n. */
export function auditPdf(paper: AuditPaper): Promise<Buffer> {
  const doc = new PdfDocument({
    size: 'LETTER',
    margins: { top: MARGIN, left: MARGIN, right: MARGIN, bottom: MARGIN },
    bufferPages: true,
    info: { Title: paper.title },
  })
  for (const font of ['regular', 'bold'] as const) doc.registerFont(font, pdfFont(font))
  const parts: Buffer[] = []
  const whole = new Promise<Buffer>((resolve, reject) => {
    doc.on('data', (part: Buffer) => parts.push(part))
    doc.on('end', () => resolve(Buffer.concat(parts)))
    doc.on('error', reject)
  })
  doc.font('bold').fontSize(20).text(paper.title, MARGIN, MARGIN)
  doc.font('regular').fontSize(10)
  for (const line of paper.lines) doc.text(line)
  for (const table of paper.tables) drawTable(doc, table)
  doc.addPage()
  doc.font('bold').fontSize(14).text(paper.appendix.title)
  doc.font('regular').fontSize(10)
  for (const paragraph of paper.appendix.paragraphs) doc.moveDown(0.6).text(paragraph)
  drawFeet(doc, paper)
  doc.end()
  return whole
}

function drawTable(doc: Doc, table: PdfTable): void {
  const { title, columns, rows } = table
  if (doc.y + HEAD_GAP * 5 > bottomOf(doc)) doc.addPage()
  doc.moveDown(1.2)
  doc
    .font('bold')
    .fontSize(12)
    .text(title, MARGIN, doc.y, { width: widthOf(doc) })
  const head = () => {
    drawRow(
      doc,
      columns,
      columns.map((column) => column.head),
      'bold',
    )
    line(doc, 1.2)
  }
  doc.moveDown(0.3)
  head()
  for (const row of rows) {
    if (doc.y + heightOf(doc, columns, row, 'regular') > bottomOf(doc)) {
      doc.addPage()
      head()
    }
    drawRow(doc, columns, row, 'regular')
    line(doc, 0.4)
  }
}

type Columns = PdfTable['columns']

const insideOf = (doc: Doc, share: number) => share * widthOf(doc) - 6

function heightOf(doc: Doc, columns: Columns, row: readonly string[], font: PdfFont): number {
  doc.font(font).fontSize(SMALL)
  const heights = columns.map((column, i) =>
    doc.heightOfString(row[i] ?? '', { width: insideOf(doc, column.share) }),
  )
  return Math.max(...heights) + 2 * ROW_GAP
}

function drawRow(doc: Doc, columns: Columns, row: readonly string[], font: PdfFont): void {
  const height = heightOf(doc, columns, row, font)
  const top = doc.y
  let x = MARGIN
  doc.font(font).fontSize(SMALL)
  for (const [i, column] of columns.entries()) {
    doc.text(row[i] ?? '', x, top + ROW_GAP, {
      width: insideOf(doc, column.share),
      align: column.isFigure ? 'right' : 'left',
    })
    x += column.share * widthOf(doc)
  }
  doc.x = MARGIN
  doc.y = top + height
}

function line(doc: Doc, weight: number): void {
  doc
    .lineWidth(weight)
    .moveTo(MARGIN, doc.y)
    .lineTo(MARGIN + widthOf(doc), doc.y)
    .stroke()
}

function drawFeet(doc: Doc, paper: AuditPaper): void {
  const { start, count } = doc.bufferedPageRange()
  for (let page = start; page < start + count; page += 1) {
    doc.switchToPage(page)
    const y = doc.page.height - MARGIN - 14
    // Below the margin a text would begin a page of its own.
    doc.page.margins.bottom = 0
    doc.font('regular').fontSize(SMALL)
    doc.text(paper.foot, MARGIN, y, { width: widthOf(doc) - 90, lineBreak: false })
    doc.text(paper.page(page - start + 1, count), MARGIN, y, {
      width: widthOf(doc),
      align: 'right',
      lineBreak: false,
    })
  }
}
