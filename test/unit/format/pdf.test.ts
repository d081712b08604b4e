import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { PdfDocument, pdfPicture, textWidth, wrapText } from '@/lib/format/pdf'
import { jpegOf, jpegSegment, pngOf } from '../../setup/picture-bytes'

const latin = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1')

/** A JPEG head of three components, as ITU-T T.81 B.2.2 lays the frame out. */
const colourJpeg = Buffer.concat([
  Buffer.from([0xff, 0xd8]),
  jpegSegment(0xc0, Buffer.from([8, 0, 30, 0, 40, 3, 1, 0x22, 0, 2, 0x11, 1, 3, 0x11, 1])),
  jpegSegment(0xda, Buffer.from([1, 1, 0, 0, 0x3f, 0])),
  Buffer.from([0x12, 0xff, 0xd9]),
])

describe('a document', () => {
  const made = () => {
    const pdf = new PdfDocument()
    pdf.addPage()
    pdf.text('Permit 0417-3, Łódź – “cut”', { x: 40, y: 700, size: 10 })
    pdf.rule({ x: 40, y: 690, width: 100, thick: 1 })
    const picture = pdfPicture('image/jpeg', colourJpeg)
    if (picture) pdf.picture(picture, { x: 40, y: 100, width: 80, height: 60 })
    pdf.addPage()
    pdf.text('Foot', { x: 40, y: 28, size: 8, page: 0 })
    return pdf.bytes('Permit 0417-3')
  }

  // ISO 32000-1, 7.5.4: each entry of the cross-reference table is the offset of its object.
  test('has a cross-reference table that leads to every object, and an end that leads to it', () => {
    const text = latin(made())
    const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(text)?.[1])
    expect(text.slice(start, start + 4)).toBe('xref')
    const offsets = [...text.slice(start).matchAll(/^(\d{10}) 00000 n $/gm)].map((hit) =>
      Number(hit[1]),
    )
    expect(offsets.length).toBeGreaterThan(8)
    offsets.forEach((offset, index) => {
      expect(text.slice(offset, offset + 12)).toMatch(new RegExp(`^${index + 1} 0 obj`))
    })
    expect(text).toContain(`/Size ${offsets.length + 1} /Root 1 0 R`)
  })

  test('says how long each stream is, to the byte', () => {
    const text = latin(made())
    const streams = [...text.matchAll(/\/Length (\d+) >>\nstream\n/g)]
    expect(streams.length).toBe(3)
    for (const hit of streams) {
      const from = (hit.index ?? 0) + hit[0].length
      expect(text.slice(from + Number(hit[1]), from + Number(hit[1]) + 10)).toBe('\nendstream')
    }
  })

  test('holds a JPEG as it is, two pages, and text by its code page', () => {
    const text = latin(made())
    expect(text).toContain('/Count 2')
    expect(text).toContain(colourJpeg.toString('latin1'))
    expect(text).toContain('/ColorSpace /DeviceRGB')
    // WinAnsi (ISO 32000-1, annex D): en dash 96, quotation marks 93 and 94, ó f3; Ł has no letter there.
    const hex = Buffer.from('Permit 0417-3, ?', 'latin1').toString('hex')
    expect(text).toContain(`<${hex}f3647a20962093${Buffer.from('cut').toString('hex')}94>`)
  })
})

describe('pictures', () => {
  test('a grey PNG goes in with its predictor', () => {
    expect(pdfPicture('image/png', pngOf(40, 30))).toMatchObject({
      ...{ widthPx: 40, heightPx: 30, colours: 'DeviceGray', filter: 'FlateDecode' },
      parameters: expect.stringContaining(
        '/Predictor 15 /Colors 1 /BitsPerComponent 8 /Columns 40',
      ),
    })
  })

  test('a PNG with a palette or transparency does not, nor a JPEG of two colours', () => {
    const png = pngOf(40, 30)
    png[25] = 6
    expect(pdfPicture('image/png', png)).toBeNull()
    const jpeg = Buffer.from(colourJpeg)
    jpeg[jpeg.indexOf(Buffer.from([0xff, 0xc0])) + 9] = 2
    expect(pdfPicture('image/jpeg', jpeg)).toBeNull()
    expect(pdfPicture('image/jpeg', jpegOf(40, 30))).toMatchObject({ colours: 'DeviceGray' })
  })
})

describe('lines', () => {
  // Adobe Core 14 AFM, from memory: A is 667, space 278, period 278 thousandths of Helvetica.
  test('are as wide as their letters', () => {
    expect(textWidth('A A.', 10)).toBeCloseTo(18.9, 9)
    expect(textWidth('AAAA', 10, 'mono')).toBeCloseTo(24, 9)
  })

  test('that are broken keep every word, in order, and none is too wide', () => {
    const words = fc.array(fc.stringMatching(/^[a-zA-Z0-9.,-]{1,30}$/), { maxLength: 30 })
    fc.assert(
      fc.property(words, fc.integer({ min: 40, max: 400 }), (all, width) => {
        const lines = wrapText(all.join(' '), 8.5, width)
        expect(lines.join('').replaceAll(' ', '')).toBe(all.join(''))
        for (const line of lines) expect(textWidth(line, 8.5)).toBeLessThanOrEqual(width)
      }),
    )
  })
})
