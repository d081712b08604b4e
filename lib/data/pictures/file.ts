import 'server-only'
import { crc32 } from 'node:zlib'

/** A picture by its content, with everything taken out that is no picture: places, cameras, comments. */
export type PictureFile = Readonly<{
  mime: 'image/jpeg' | 'image/png'
  widthPx: number
  heightPx: number
  bytes: Buffer
}>

const MAX_SIDE_PX = 4096
const PNG_SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
/** What a decoder needs or a viewer should: the rest is text, time and camera data. */
const PNG_KEPT = new Set(['IHDR', 'PLTE', 'IDAT', 'IEND', 'tRNS', 'gAMA', 'cHRM', 'sRGB', 'pHYs'])

function readPng(file: Buffer): PictureFile | null {
  const kept: Buffer[] = [PNG_SIGNATURE]
  const seen = new Set<string>()
  let at = PNG_SIGNATURE.length
  while (at + 12 <= file.length) {
    const length = file.readUInt32BE(at)
    const end = at + 12 + length
    if (end > file.length) return null
    const body = file.subarray(at + 4, end - 4)
    if (crc32(body) !== file.readUInt32BE(end - 4)) return null
    const type = body.toString('latin1', 0, 4)
    if (seen.size === 0 && type !== 'IHDR') return null
    seen.add(type)
    if (PNG_KEPT.has(type)) kept.push(file.subarray(at, end))
    at = end
    if (type === 'IEND') break
  }
  if (!seen.has('IDAT') || !seen.has('IEND')) return null
  return {
    mime: 'image/png',
    widthPx: file.readUInt32BE(16),
    heightPx: file.readUInt32BE(20),
    bytes: Buffer.concat(kept),
  }
}

const SOI = 0xd8
const EOI = 0xd9
const SOS = 0xda
const COMMENT = 0xfe
const isFrame = (marker: number) =>
  marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)
/** JFIF, the colour profile and Adobe's transform are needed to draw it; other application data is not. */
const isDropped = (marker: number) =>
  marker === COMMENT || (marker >= 0xe1 && marker <= 0xef && marker !== 0xe2 && marker !== 0xee)

function readJpeg(file: Buffer): PictureFile | null {
  const kept: Buffer[] = [Buffer.from([0xff, SOI])]
  let size: { widthPx: number; heightPx: number } | null = null
  let at = 2
  while (at + 4 <= file.length) {
    const marker = file[at + 1] ?? 0
    if (file[at] !== 0xff || marker === EOI) return null
    const end = at + 2 + file.readUInt16BE(at + 2)
    if (end > file.length) return null
    if (marker === SOS) {
      const last = file.lastIndexOf(Buffer.from([0xff, EOI]))
      if (last < end || size === null) return null
      // Whatever stands behind the picture's end is not the picture.
      const bytes = Buffer.concat([...kept, file.subarray(at, last + 2)])
      return { mime: 'image/jpeg', ...size, bytes }
    }
    if (isFrame(marker))
      size = { heightPx: file.readUInt16BE(at + 5), widthPx: file.readUInt16BE(at + 7) }
    if (!isDropped(marker)) kept.push(file.subarray(at, end))
    at = end
  }
  return null
}

/**
 * Reads a picture by what is in it, whatever it calls itself: JPEG or PNG, at most 4,096 a side. Null
 * for anything else.
 */
export function readPictureFile(file: Buffer): PictureFile | null {
  const isPng = file.length > 33 && file.subarray(0, 8).equals(PNG_SIGNATURE)
  const isJpeg = file.length > 4 && file[0] === 0xff && file[1] === SOI
  const read = isPng ? readPng(file) : isJpeg ? readJpeg(file) : null
  if (!read) return null
  const isSized = [read.widthPx, read.heightPx].every((side) => side >= 1 && side <= MAX_SIDE_PX)
  return isSized ? read : null
}
