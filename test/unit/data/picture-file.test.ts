import { describe, expect, test } from 'vitest'
import { readPictureFile } from '@/lib/data/pictures/file'
import { jpegOf, jpegSegment, pngChunk, pngOf } from '../../setup/picture-bytes'

const PLACE = Buffer.from('Exif\0\0GPSLatitude 29.95', 'latin1')

describe('a picture is what its bytes say', () => {
  test('a PNG and a JPEG are read with their size', () => {
    expect(readPictureFile(pngOf(40, 30))).toMatchObject({
      mime: 'image/png',
      widthPx: 40,
      heightPx: 30,
    })
    expect(readPictureFile(jpegOf(640, 480))).toMatchObject({
      mime: 'image/jpeg',
      widthPx: 640,
      heightPx: 480,
    })
  })

  test.each([
    ['nothing', Buffer.alloc(0)],
    ['a page', Buffer.from('<html><script>alert(1)</script></html>')],
    ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>')],
    ['a GIF', Buffer.from('GIF89a0000000000000000000000000000000000000')],
    ['a PNG cut short', pngOf(40, 30).subarray(0, -20)],
    ['a PNG without a picture', pngOf(40, 30).subarray(0, 33)],
    ['a JPEG cut short', jpegOf(40, 30).subarray(0, -2)],
    ['a JPEG that is only a head', Buffer.from([0xff, 0xd8, 0xff, 0xd9])],
    ['a PNG of 5,000 px', pngOf(5000, 1)],
    ['a JPEG of 5,000 px', jpegOf(5000, 10)],
    ['a JPEG of no width', jpegOf(0, 10)],
  ])('%s is none', (_, file) => {
    expect(readPictureFile(file)).toBeNull()
  })

  test('a PNG with one bit turned is none', () => {
    const file = pngOf(40, 30)
    file[50] = (file[50] ?? 0) ^ 1
    expect(readPictureFile(file)).toBeNull()
  })
})

describe('what is no picture is taken out', () => {
  test('where a JPEG was made, its comment, and what hides behind its end', () => {
    const extra = [jpegSegment(0xe1, PLACE), jpegSegment(0xfe, Buffer.from('note'))]
    const file = Buffer.concat([jpegOf(40, 30, extra), Buffer.from('<script>')])
    expect(readPictureFile(file)?.bytes.equals(jpegOf(40, 30))).toBe(true)
  })

  test('a colour profile stays', () => {
    const profile = jpegSegment(0xe2, Buffer.from('ICC_PROFILE\0'))
    const file = jpegOf(40, 30, [profile])
    expect(readPictureFile(file)?.bytes.equals(file)).toBe(true)
  })

  test('where a PNG was made, its text and time, and what hides behind its end', () => {
    const extra = [
      pngChunk('eXIf', PLACE),
      pngChunk('tEXt', Buffer.from('Author\0me')),
      pngChunk('tIME', Buffer.alloc(7)),
    ]
    const file = Buffer.concat([pngOf(40, 30, extra), Buffer.from('more')])
    expect(readPictureFile(file)?.bytes.equals(pngOf(40, 30))).toBe(true)
  })
})
