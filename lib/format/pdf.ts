/**
 * A small writer of PDF 1.4 (ISO 32000-1): text in the three standard fonts that every reader has,
 * rules, and JPEG or PNG pictures as they are. Points from the lower left corner.
 */

export type PdfFont = 'regular' | 'bold' | 'mono'
/** Letter, in points. */
export const PAGE = { width: 612, height: 792 } as const

/** Adobe's Helvetica, widths of codes 32 to 126 in thousandths. @source Adobe Core 14 AFM, from memory */
const HELVETICA = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
  556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
  611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
  667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
  222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
] as const
const MONO = 600
/** Bold runs wider by at most this; enough to wrap by. */
const BOLD = 1.09

/** Characters of the WinAnsi code page that stand elsewhere than in Latin-1 (ISO 32000-1, annex D). */
const WIN_ANSI: Readonly<Record<string, number>> = {
  '€': 0x80,
  '…': 0x85,
  '‘': 0x91,
  '’': 0x92,
  '“': 0x93,
  '”': 0x94,
  '•': 0x95,
  '–': 0x96,
  '—': 0x97,
  '\u2212': 0x2d,
  '₂': 0x32,
  '\u202f': 0x20,
}

function codeOf(character: string): number {
  const known = WIN_ANSI[character]
  if (known !== undefined) return known
  const code = character.codePointAt(0) ?? 0x3f
  if ((code >= 0x20 && code <= 0x7e) || (code >= 0xa0 && code <= 0xff)) return code
  // A letter with a mark that the fonts lack is set without it; what is left is a question mark.
  const [base = '?'] = character.normalize('NFD')
  const plain = base.codePointAt(0) ?? 0x3f
  return base !== character && plain >= 0x20 && plain <= 0x7e ? plain : 0x3f
}

const codesOf = (text: string) => [...text].map(codeOf)

/** How wide a line is set, in points. */
export function textWidth(text: string, size: number, font: PdfFont = 'regular'): number {
  const thousandths = codesOf(text).reduce(
    (sum, code) => sum + (font === 'mono' ? MONO : (HELVETICA[code - 32] ?? 556)),
    0,
  )
  return (thousandths / 1000) * size * (font === 'bold' ? BOLD : 1)
}

/** Broken at spaces to fit a width; a word that is wider is broken where it must be. */
export function wrapText(text: string, size: number, width: number, font?: PdfFont): string[] {
  const fits = (line: string) => textWidth(line, size, font) <= width
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const longer = line ? `${line} ${word}` : word
    if (fits(longer)) {
      line = longer
      continue
    }
    if (line) lines.push(line)
    line = word
    while (!fits(line) && line.length > 1) {
      let cut = line.length - 1
      while (cut > 1 && !fits(line.slice(0, cut))) cut -= 1
      lines.push(line.slice(0, cut))
      line = line.slice(cut)
    }
  }
  return line || lines.length === 0 ? [...lines, line] : lines
}

export interface PdfPicture {
  widthPx: number
  heightPx: number
  /** `DeviceGray`, `DeviceRGB` or `DeviceCMYK`. */
  colours: string
  filter: 'DCTDecode' | 'FlateDecode'
  parameters: string
  data: Uint8Array
}

const u16 = (bytes: Uint8Array, at: number) => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0)
const COLOURS: Readonly<Record<number, string>> = {
  1: 'DeviceGray',
  3: 'DeviceRGB',
  4: 'DeviceCMYK',
}

function jpegPicture(bytes: Uint8Array): PdfPicture | null {
  for (let at = 2; at + 9 < bytes.length; at += 2 + u16(bytes, at + 2)) {
    const marker = bytes[at + 1] ?? 0
    if (bytes[at] !== 0xff || marker === 0xda) return null
    if (marker < 0xc0 || marker > 0xc2) continue
    const colours = COLOURS[bytes[at + 9] ?? 0]
    return colours
      ? {
          widthPx: u16(bytes, at + 7),
          heightPx: u16(bytes, at + 5),
          colours,
          filter: 'DCTDecode',
          parameters: '',
          data: bytes,
        }
      : null
  }
  return null
}

function pngPicture(bytes: Uint8Array): PdfPicture | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const [depth, type, interlace] = [bytes[24], bytes[25] ?? 9, bytes[28]]
  if (depth !== 8 || interlace !== 0 || (type !== 0 && type !== 2)) return null
  const parts: Uint8Array[] = []
  for (let at = 8; at + 12 <= bytes.length; at += 12 + view.getUint32(at)) {
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8))
    if (name === 'IDAT') parts.push(bytes.subarray(at + 8, at + 8 + view.getUint32(at)))
  }
  const colors = type === 2 ? 3 : 1
  const widthPx = view.getUint32(16)
  return {
    widthPx,
    heightPx: view.getUint32(20),
    colours: COLOURS[colors] ?? 'DeviceGray',
    filter: 'FlateDecode',
    parameters: `/DecodeParms << /Predictor 15 /Colors ${colors} /BitsPerComponent 8 /Columns ${widthPx} >>`,
    data: joined(parts),
  }
}

/** A kept picture as a reader draws it; null for one of a kind that PDF does not take as it is. */
export function pdfPicture(mime: string, bytes: Uint8Array): PdfPicture | null {
  return mime === 'image/jpeg' ? jpegPicture(bytes) : pngPicture(bytes)
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((size, part) => size + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}

const bytesOf = (text: string) =>
  Uint8Array.from(text, (character) => character.charCodeAt(0) & 0xff)
const hex = (text: string) =>
  codesOf(text)
    .map((code) => code.toString(16).padStart(2, '0'))
    .join('')
const FONT_NAMES: Readonly<Record<PdfFont, string>> = { regular: 'F1', bold: 'F2', mono: 'F3' }
const number = (value: number) => String(Math.round(value * 100) / 100)

/** Pages in the making; `bytes` ends the document. */
export class PdfDocument {
  private readonly pages: string[][] = []
  private readonly pictures: PdfPicture[] = []

  addPage(): void {
    this.pages.push([])
  }

  get pageCount(): number {
    return this.pages.length
  }

  text(
    text: string,
    at: { x: number; y: number; size: number; font?: PdfFont; page?: number },
  ): void {
    const font = FONT_NAMES[at.font ?? 'regular']
    this.draw(
      `BT /${font} ${number(at.size)} Tf ${number(at.x)} ${number(at.y)} Td <${hex(text)}> Tj ET`,
      at.page,
    )
  }

  rule(at: { x: number; y: number; width: number; thick: number }): void {
    this.draw(`${number(at.x)} ${number(at.y)} ${number(at.width)} ${number(at.thick)} re f`)
  }

  picture(picture: PdfPicture, at: { x: number; y: number; width: number; height: number }): void {
    this.pictures.push(picture)
    const place = [at.width, 0, 0, at.height, at.x, at.y].map(number).join(' ')
    this.draw(`q ${place} cm /P${this.pictures.length} Do Q`)
  }

  private draw(operator: string, page = this.pages.length - 1): void {
    this.pages[page]?.push(operator)
  }

  bytes(title: string): Uint8Array<ArrayBuffer> {
    const parts: Uint8Array[] = [bytesOf('%PDF-1.4\n%\xe2\xe3\xcf\xd3\n')]
    const offsets: number[] = []
    let size = parts[0]?.length ?? 0
    const write = (...chunks: readonly Uint8Array[]) => {
      for (const chunk of chunks) {
        parts.push(chunk)
        size += chunk.length
      }
    }
    const object = (body: string, stream?: Uint8Array) => {
      offsets.push(size)
      write(bytesOf(`${offsets.length} 0 obj\n${body}\n`))
      if (stream) write(bytesOf('stream\n'), stream, bytesOf('\nendstream\n'))
      write(bytesOf('endobj\n'))
    }
    const firstPicture = 7
    const firstPage = firstPicture + this.pictures.length
    const kids = this.pages.map((_, index) => `${firstPage + index * 2} 0 R`).join(' ')
    const named = this.pictures.map((_, index) => `/P${index + 1} ${firstPicture + index} 0 R`)
    object('<< /Type /Catalog /Pages 2 0 R >>')
    object(`<< /Type /Pages /Kids [${kids}] /Count ${this.pages.length} >>`)
    for (const base of ['Helvetica', 'Helvetica-Bold', 'Courier'])
      object(`<< /Type /Font /Subtype /Type1 /BaseFont /${base} /Encoding /WinAnsiEncoding >>`)
    object(`<< /Title <${hex(title)}> /Producer (Kerfwatch) >>`)
    for (const one of this.pictures)
      object(
        `<< /Type /XObject /Subtype /Image /Width ${one.widthPx} /Height ${one.heightPx} /ColorSpace /${one.colours} /BitsPerComponent 8 /Filter /${one.filter} ${one.parameters} /Length ${one.data.length} >>`,
        one.data,
      )
    const resources = `<< /Font << /F1 3 0 R /F2 4 0 R /F3 5 0 R >> /XObject << ${named.join(' ')} >> >>`
    this.pages.forEach((operators, index) => {
      const content = bytesOf(operators.join('\n'))
      object(
        `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${PAGE.width} ${PAGE.height}] /Resources ${resources} /Contents ${firstPage + index * 2 + 1} 0 R >>`,
      )
      object(`<< /Length ${content.length} >>`, content)
    })
    const start = size
    const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('')
    const count = offsets.length + 1
    write(
      bytesOf(
        `xref\n0 ${count}\n0000000000 65535 f \n${rows}trailer\n<< /Size ${count} /Root 1 0 R /Info 6 0 R >>\nstartxref\n${start}\n%%EOF\n`,
      ),
    )
    return Uint8Array.from(joined(parts))
  }
}
