/** A sheet of lines as a PDF: Letter, black, one fixed-width face that every reader has; nothing is embedded. */
const PAGE = { widthPt: 612, heightPt: 792, marginPt: 40 } as const
const TYPE = { sizePt: 10, leadPt: 14 } as const
const LINES_A_PAGE = Math.floor((PAGE.heightPt - 2 * PAGE.marginPt) / TYPE.leadPt)
/** What fits between the margins: the face is 0.6 of its size wide. */
export const PDF_COLUMNS = Math.floor((PAGE.widthPt - 2 * PAGE.marginPt) / (TYPE.sizePt * 0.6))

/** The characters of WinAnsi that are not Latin-1 and that our words use. */
const WIN_ANSI: Readonly<Record<string, number>> = {
  '–': 0x96,
  '—': 0x97,
  '‘': 0x91,
  '’': 0x92,
  '“': 0x93,
  '”': 0x94,
  '•': 0x95,
  '…': 0x85,
  '€': 0x80,
}

function bytesOf(text: string): number[] {
  return [...text].map((letter) => {
    const code = WIN_ANSI[letter] ?? letter.codePointAt(0) ?? 0
    return code < 256 ? code : 0x3f // what the face has not is a question mark, never another word
  })
}

const shown = (line: string) =>
  bytesOf(line)
    .map((byte) => {
      const letter = String.fromCharCode(byte)
      if ('\\()'.includes(letter)) return `\\${letter}`
      return byte < 0x20 || byte > 0x7e ? `\\${byte.toString(8).padStart(3, '0')}` : letter
    })
    .join('')

function contentOf(lines: readonly string[]): string {
  const first = PAGE.heightPt - PAGE.marginPt - TYPE.sizePt
  const drawn = lines.map((line) => `(${shown(line.slice(0, PDF_COLUMNS))}) Tj T*`).join('\n')
  return `BT /F1 ${TYPE.sizePt} Tf ${TYPE.leadPt} TL ${PAGE.marginPt} ${first} Td\n${drawn}\nET`
}

/**
 * Lines as a PDF file.
 *
 * @param lines as they read; a line longer than `PDF_COLUMNS` is cut off, too many go on on another page
 * @returns the file's bytes; every offset in its table is right, so that strict readers open it
 */
export function plainPdf(lines: readonly string[]): Uint8Array<ArrayBuffer> {
  const pages = Array.from(
    { length: Math.max(1, Math.ceil(lines.length / LINES_A_PAGE)) },
    (_, i) => lines.slice(i * LINES_A_PAGE, (i + 1) * LINES_A_PAGE),
  )
  const pageId = (i: number) => 4 + 2 * i
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    `<< /Type /Pages /Count ${pages.length} /Kids [${pages.map((_, i) => `${pageId(i)} 0 R`).join(' ')}] >>`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Courier /Encoding /WinAnsiEncoding >>',
    ...pages.flatMap((page, i) => {
      const content = contentOf(page)
      return [
        `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${PAGE.widthPt} ${PAGE.heightPt}] /Resources << /Font << /F1 3 0 R >> >> /Contents ${pageId(i) + 1} 0 R >>`,
        `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
      ]
    }),
  ]
  let file = '%PDF-1.4\n'
  const offsets = objects.map((object, i) => {
    const offset = file.length
    file += `${i + 1} 0 obj\n${object}\nendobj\n`
    return offset
  })
  const tableAt = file.length
  const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('')
  file += `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${rows}`
  file += `trailer\n<< /Size ${objects.length + 1} /Root 1 0 R >>\nstartxref\n${tableAt}\n%%EOF\n`
  return Uint8Array.from(file, (letter) => letter.charCodeAt(0))
}
