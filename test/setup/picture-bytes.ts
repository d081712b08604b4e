import { crc32, deflateSync } from 'node:zlib'

const uint32 = (value: number) => {
  const bytes = Buffer.alloc(4)
  bytes.writeUInt32BE(value)
  return bytes
}

/** One chunk of a PNG, as its specification (W3C PNG, section 5.3) lays it out. */
export function pngChunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data])
  return Buffer.concat([uint32(data.length), body, uint32(crc32(body))])
}

/** A white PNG that any viewer shows; `extra` goes between its head and its picture. */
export function pngOf(widthPx: number, heightPx: number, extra: readonly Buffer[] = []): Buffer {
  const head = Buffer.concat([uint32(widthPx), uint32(heightPx), Buffer.from([8, 0, 0, 0, 0])])
  const row = Buffer.concat([Buffer.from([0]), Buffer.alloc(widthPx, 0xff)])
  const picture = deflateSync(Buffer.concat(Array.from({ length: heightPx }, () => row)))
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    pngChunk('IHDR', head),
    ...extra,
    pngChunk('IDAT', picture),
    pngChunk('IEND', Buffer.alloc(0)),
  ])
}

/** One segment of a JPEG (ITU-T T.81, annex B.1.1.4). */
export function jpegSegment(marker: number, data: Buffer): Buffer {
  const length = Buffer.alloc(2)
  length.writeUInt16BE(data.length + 2)
  return Buffer.concat([Buffer.from([0xff, marker]), length, data])
}

/** The segments of a JPEG of this size; its picture data is only bytes. */
export function jpegOf(widthPx: number, heightPx: number, extra: readonly Buffer[] = []): Buffer {
  const frame = Buffer.alloc(6)
  frame.writeUInt8(8, 0)
  frame.writeUInt16BE(heightPx, 1)
  frame.writeUInt16BE(widthPx, 3)
  frame.writeUInt8(1, 5)
  return Buffer.concat([
    Buffer.from([0xff, 0xd8]),
    jpegSegment(0xe0, Buffer.from('JFIF\0', 'latin1')),
    ...extra,
    jpegSegment(0xc0, frame),
    jpegSegment(0xda, Buffer.from([1, 1, 0, 0, 0x3f, 0])),
    Buffer.from([0x12, 0x34, 0xff, 0xd9]),
  ])
}
