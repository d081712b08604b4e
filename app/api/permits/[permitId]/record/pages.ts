import { PAGE, PdfDocument, type PdfFont, type PdfPicture, wrapText } from '@/lib/format/pdf'

const MARGIN = 40
const FOOT = 48
const WIDTH = PAGE.width - 2 * MARGIN

export interface Cell {
  text: string
  width: number
  font?: PdfFont
}

/** Fills pages from the top; what does not fit goes to the next, and no row is split. */
export class Pages {
  readonly pdf = new PdfDocument()
  private y = 0

  constructor() {
    this.turn()
  }

  private turn(): void {
    this.pdf.addPage()
    this.y = PAGE.height - MARGIN
  }

  private room(height: number): void {
    if (this.y - height < FOOT) this.turn()
  }

  gap(height: number): void {
    this.y -= height
  }

  line(text: string, size: number, font: PdfFont = 'regular'): void {
    for (const part of wrapText(text, size, WIDTH, font)) {
      this.room(size * 1.3)
      this.y -= size * 1.3
      this.pdf.text(part, { x: MARGIN, y: this.y, size, font })
    }
  }

  /** A head over a heavy rule, with room for something under it. */
  head(text: string): void {
    this.room(60)
    this.y -= 26
    this.pdf.text(text, { x: MARGIN, y: this.y, size: 11, font: 'bold' })
    this.y -= 5
    this.pdf.rule({ x: MARGIN, y: this.y, width: WIDTH, thick: 1.2 })
  }

  row(cells: readonly Cell[], size = 8.5): void {
    const wrapped = cells.map((cell) => wrapText(cell.text, size, cell.width - 6, cell.font))
    const height = Math.max(...wrapped.map((lines) => lines.length)) * size * 1.25 + 4
    this.room(height)
    let x = MARGIN
    cells.forEach((cell, index) => {
      wrapped[index]?.forEach((part, line) => {
        this.pdf.text(part, {
          x,
          y: this.y - size * (1 + 1.25 * line) - 1,
          size,
          ...(cell.font ? { font: cell.font } : {}),
        })
      })
      x += cell.width
    })
    this.y -= height
    this.pdf.rule({ x: MARGIN, y: this.y, width: WIDTH, thick: 0.3 })
  }

  /** A picture as wide as half the page at most, with what it is beside it. */
  picture(picture: PdfPicture | null, words: readonly string[]): void {
    const width = picture ? Math.min(250, (180 * picture.widthPx) / picture.heightPx) : 0
    const height = picture ? (width * picture.heightPx) / picture.widthPx : 0
    const lines = words.flatMap((text) => wrapText(text, 8.5, WIDTH - width - 14))
    const needed = Math.max(height, lines.length * 11) + 12
    this.room(needed)
    if (picture) this.pdf.picture(picture, { x: MARGIN, y: this.y - height - 6, width, height })
    lines.forEach((text, index) => {
      this.pdf.text(text, { x: MARGIN + width + 14, y: this.y - 15 - index * 11, size: 8.5 })
    })
    this.y -= needed
  }

  /** The foot of every page, once it is known how many there are. */
  end(foot: (page: number, of: number) => string, title: string): Uint8Array<ArrayBuffer> {
    const of = this.pdf.pageCount
    for (let page = 0; page < of; page += 1)
      this.pdf.text(foot(page + 1, of), { x: MARGIN, y: 28, size: 8.5, page })
    return this.pdf.bytes(title)
  }
}
