import { deflateSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { Pages } from '@/app/api/permits/[permitId]/record/pages'
import { pdfText } from '../../setup/pdf-text'
import { jpegOf, pngChunk, pngOf } from '../../setup/picture-bytes'

const latin = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1')
const foot = (page: number, of: number) => `Page ${page} of ${of}`

/** Two pixels of a palette of two colours (W3C PNG, colour type 3). */
const palettePng = Buffer.concat([
  Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
  pngChunk('IHDR', Buffer.from([0, 0, 0, 2, 0, 0, 0, 1, 8, 3, 0, 0, 0])),
  pngChunk('PLTE', Buffer.from([255, 0, 0, 0, 0, 255])),
  pngChunk('IDAT', deflateSync(Buffer.from([0, 0, 1]))),
  pngChunk('IEND', Buffer.alloc(0)),
])

describe('the pages of a record', () => {
  test('write names in Polish, Greek and Cyrillic letters as they are', async () => {
    const pages = new Pages('Permit 0417-3')
    const names = ['Łukasz Źdźbło', 'Γιώργος Ξανθός', 'Олена Їжак', 'Søren – “cut” − 5 °C']
    for (const name of names) pages.line(name, 10)
    pages.row([
      { text: 'Jędrzej', width: 100, font: 'bold' },
      { text: 'ab12', width: 60, font: 'mono' },
    ])
    const text = pdfText(await pages.end(foot))
    for (const name of [...names, 'Jędrzej', 'ab12']) expect(text.split('\n')).toContain(name)
  })

  test('go on on another page without splitting a row, each with its foot', async () => {
    const pages = new Pages('Permit 0417-3')
    for (let row = 0; row < 90; row += 1)
      pages.row([
        { text: `row ${row}`, width: 60 },
        { text: 'a long word or two that takes more than one line of its narrow cell', width: 120 },
      ])
    const bytes = await pages.end(foot)
    const text = pdfText(bytes)
    const count = Number(/\/Count (\d+)/.exec(latin(bytes))?.[1])
    expect(count).toBeGreaterThan(3)
    for (let page = 1; page <= count; page += 1) expect(text).toContain(`Page ${page} of ${count}`)
    for (let row = 0; row < 90; row += 1) expect(text.split('\n')).toContain(`row ${row}`)
  })

  test('draw JPEGs, grey and palette PNGs, and say where a picture cannot be drawn', async () => {
    const drawn = async (bytes: Uint8Array) => {
      const pages = new Pages('Photo')
      pages.picture(bytes, ['Before'], 'Not drawn')
      const pdf = await pages.end(foot)
      expect(pdfText(pdf)).toContain('Before')
      return { isImage: latin(pdf).includes('/Subtype /Image'), text: pdfText(pdf) }
    }
    for (const bytes of [jpegOf(40, 30), pngOf(40, 30), palettePng]) {
      const { isImage, text } = await drawn(bytes)
      expect(isImage).toBe(true)
      expect(text).not.toContain('Not drawn')
    }
    const { isImage, text } = await drawn(Buffer.from('GIF89a'))
    expect(isImage).toBe(false)
    expect(text).toContain('Not drawn')
  })
})
