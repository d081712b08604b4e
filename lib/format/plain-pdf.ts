import PdfDocument from 'pdfkit'
import { pdfFont } from './pdf-fonts'

/** A sheet of lines as a PDF: Letter, black, one fixed-width face. */
const MARGIN_PT = 40
const TYPE = { sizePt: 10, leadPt: 14 } as const
const PAGE = { widthPt: 612, heightPt: 792 } as const
const LINES_A_PAGE = Math.floor((PAGE.heightPt - 2 * MARGIN_PT) / TYPE.leadPt)
/** What fits between the margins: the face is 0.602 of its size wide. */
export const PDF_COLUMNS = Math.floor((PAGE.widthPt - 2 * MARGIN_PT) / (TYPE.sizePt * 0.602))

/**
 * Lines as a PDF file.
 *
 * @param lines as they read; a line longer than `PDF_COLUMNS` is cut off, too many go on on another page
 */
export function plainPdf(lines: readonly string[]): Promise<Uint8Array<ArrayBuffer>> {
  const doc = new PdfDocument({ size: 'LETTER', margin: 0 })
  doc.registerFont('mono', pdfFont('mono'))
  const parts: Buffer[] = []
  const whole = new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    doc.on('data', (part: Buffer) => parts.push(part))
    doc.on('end', () => resolve(new Uint8Array(Buffer.concat(parts))))
    doc.on('error', reject)
  })
  doc.font('mono').fontSize(TYPE.sizePt)
  for (const [i, line] of lines.entries()) {
    const row = i % LINES_A_PAGE
    if (row === 0 && i > 0) doc.addPage().font('mono').fontSize(TYPE.sizePt)
    const y = MARGIN_PT + row * TYPE.leadPt
    doc.text(line.slice(0, PDF_COLUMNS), MARGIN_PT, y, { lineBreak: false })
  }
  doc.end()
  return whole
}
