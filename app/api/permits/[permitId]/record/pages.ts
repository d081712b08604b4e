import PdfDocument from 'pdfkit'
import { type PdfFont, pdfFont } from '@/lib/format/pdf-fonts'

/** Letter, in points. */
const PAGE = { width: 612, height: 792 } as const
const MARGIN = 40
const FOOT = 48
const WIDTH = PAGE.width - 2 * MARGIN
/** From line to line, of the size of the type. */
const LEAD = 1.25
const SMALL = 8.5

export interface Cell {
  text: string
  width: number
  font?: PdfFont
}

type Doc = InstanceType<typeof PdfDocument>
type Picture = Readonly<{ width: number; height: number }>

const FONTS = ['regular', 'bold', 'mono'] as const

function newDocument(title: string): Doc {
  const doc = new PdfDocument({
    size: 'LETTER',
    margin: 0,
    bufferPages: true,
    info: { Title: title },
  })
  for (const font of FONTS) doc.registerFont(font, pdfFont(font))
  return doc
}

/** Fills pages from the top; what does not fit goes to the next, and no row is split. */
export class Pages {
  private readonly doc: Doc
  private readonly whole: Promise<Uint8Array<ArrayBuffer>>
  private y = MARGIN

  constructor(title: string) {
    this.doc = newDocument(title)
    const parts: Buffer[] = []
    this.whole = new Promise((resolve, reject) => {
      this.doc.on('data', (part: Buffer) => parts.push(part))
      this.doc.on('end', () => resolve(new Uint8Array(Buffer.concat(parts))))
      this.doc.on('error', reject)
    })
  }

  private room(height: number): void {
    if (this.y + height <= PAGE.height - FOOT) return
    this.doc.addPage()
    this.y = MARGIN
  }

  private set(font: PdfFont, size: number): Doc {
    return this.doc.font(font).fontSize(size)
  }

  private heightOf(text: string, width: number, size: number, font: PdfFont): number {
    const set = this.set(font, size)
    return set.heightOfString(text || ' ', { width, lineGap: gapOf(set, size) })
  }

  private put(
    text: string,
    at: { x: number; y: number; width: number; size: number; font: PdfFont },
  ) {
    const set = this.set(at.font, at.size)
    set.text(text, at.x, at.y, { width: at.width, lineGap: gapOf(set, at.size) })
  }

  private rule(thick: number): void {
    this.doc.rect(MARGIN, this.y, WIDTH, thick).fill('black')
  }

  gap(height: number): void {
    this.y += height
  }

  line(text: string, size: number, font: PdfFont = 'regular'): void {
    const height = this.heightOf(text, WIDTH, size, font)
    this.room(height)
    this.put(text, { x: MARGIN, y: this.y, width: WIDTH, size, font })
    this.y += height
  }

  /** A head over a heavy rule, with room for something under it. */
  head(text: string): void {
    this.room(60)
    this.y += 14
    this.put(text, { x: MARGIN, y: this.y, width: WIDTH, size: 11, font: 'bold' })
    this.y += 16
    this.rule(1.2)
    this.y += 1.2
  }

  row(cells: readonly Cell[], size = SMALL): void {
    const heights = cells.map((cell) =>
      this.heightOf(cell.text, cell.width - 6, size, cell.font ?? 'regular'),
    )
    const height = Math.max(...heights) + 4
    this.room(height)
    let x = MARGIN
    for (const { text, width, font = 'regular' } of cells) {
      this.put(text, { x, y: this.y + 2, width: width - 6, size, font })
      x += width
    }
    this.y += height
    this.rule(0.3)
  }

  /**
   * A kept picture as wide as half the page at most, with what it is beside it.
   *
   * @param notDrawn what is said where a file like this cannot hold that kind of picture
   */
  picture(bytes: Uint8Array, words: readonly string[], notDrawn: string): void {
    const picture = this.open(bytes)
    const width = picture ? Math.min(250, (180 * picture.width) / picture.height) : 0
    const height = picture ? (width * picture.height) / picture.width : 0
    const text = [...words, ...(picture ? [] : [notDrawn])].join('\n')
    const left = MARGIN + width + 14
    const room = PAGE.width - MARGIN - left
    const needed = Math.max(height, this.heightOf(text, room, SMALL, 'regular')) + 12
    this.room(needed)
    if (picture) this.doc.image(picture as never, MARGIN, this.y + 6, { width, height })
    this.put(text, { x: left, y: this.y + 6, width: room, size: SMALL, font: 'regular' })
    this.y += needed
  }

  private open(bytes: Uint8Array): Picture | null {
    try {
      return (this.doc as unknown as { openImage: (from: Buffer) => Picture }).openImage(
        Buffer.from(bytes),
      )
    } catch {
      return null // its hash stands in the file all the same
    }
  }

  /** The foot of every page, once it is known how many there are. */
  end(foot: (page: number, of: number) => string): Promise<Uint8Array<ArrayBuffer>> {
    const { start, count } = this.doc.bufferedPageRange()
    for (let page = 0; page < count; page += 1) {
      this.doc.switchToPage(start + page)
      this.put(foot(page + 1, count), {
        ...{ x: MARGIN, y: PAGE.height - 36, width: WIDTH },
        ...{ size: SMALL, font: 'regular' },
      })
    }
    this.doc.end()
    return this.whole
  }
}

/** What is added to the face's own line so that lines stand `LEAD` apart. */
function gapOf(set: Doc, size: number): number {
  return size * LEAD - set.currentLineHeight(false)
}
