import { readFileSync } from 'node:fs'
import { join } from 'node:path'

const FILES = {
  regular: 'DejaVuSans.ttf',
  bold: 'DejaVuSans-Bold.ttf',
  mono: 'DejaVuSansMono.ttf',
} as const
export type PdfFont = keyof typeof FILES

const read = new Map<PdfFont, Buffer>()

/**
 * A face with the letters of every name that Latin, Greek or Cyrillic writes; the fonts that every
 * PDF reader has stop at western Europe. Only the letters that are used go into a file.
 */
export function pdfFont(font: PdfFont): Buffer {
  const kept = read.get(font)
  if (kept) return kept
  const bytes = readFileSync(
    join(process.cwd(), 'node_modules', 'dejavu-fonts-ttf', 'ttf', FILES[font]),
  )
  read.set(font, bytes)
  return bytes
}
