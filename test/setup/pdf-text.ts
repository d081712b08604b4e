import { inflateSync } from 'node:zlib'

const STREAM = /stream\r?\n/

/** Each object of a PDF by its number: its dictionary and, unpacked, its stream (ISO 32000-1, 7.3). */
function objectsOf(pdf: Uint8Array): Map<number, { dict: string; stream: string }> {
  const text = Buffer.from(pdf).toString('latin1')
  const found = new Map<number, { dict: string; stream: string }>()
  for (const hit of text.matchAll(/(\d+) 0 obj\r?\n/g)) {
    const body = text.slice((hit.index ?? 0) + hit[0].length)
    const end = body.indexOf('endobj')
    const begins = STREAM.exec(body.slice(0, end))
    const dict = body.slice(0, begins ? begins.index : end)
    const length = Number(/\/Length (\d+)/.exec(dict)?.[1] ?? 0)
    const raw = begins
      ? body.slice(begins.index + begins[0].length, begins.index + begins[0].length + length)
      : ''
    const isPacked = dict.includes('/FlateDecode') && !dict.includes('/Subtype /Image')
    const stream = isPacked ? inflateSync(Buffer.from(raw, 'latin1')).toString('latin1') : raw
    found.set(Number(hit[1]), { dict, stream })
  }
  return found
}

/** What each code of a font stands for, by its ToUnicode map (ISO 32000-1, 9.10.3). */
function letters(map: string): string[] {
  return [...map.matchAll(/<([0-9a-f]+)> <[0-9a-f]+> \[([^\]]*)\]/gi)].flatMap(([, , list]) =>
    [...(list ?? '').matchAll(/<([0-9a-f ]+)>/gi)].map(([, code]) =>
      Buffer.from((code ?? '').replaceAll(' ', ''), 'hex')
        .swap16()
        .toString('utf16le'),
    ),
  )
}

/** The words of a PDF whose fonts are embedded, line by line, as a reader's search would find them. */
export function pdfText(pdf: Uint8Array): string {
  const objects = objectsOf(pdf)
  const fonts = new Map<string, string[]>()
  for (const { dict } of objects.values())
    for (const [, name, number] of dict.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const map = /\/ToUnicode (\d+) 0 R/.exec(objects.get(Number(number))?.dict ?? '')?.[1]
      if (name && map) fonts.set(name, letters(objects.get(Number(map))?.stream ?? ''))
    }
  const lines: string[] = []
  for (const { stream } of objects.values()) {
    let font: readonly string[] = []
    for (const [shown, name, strings] of stream.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ/g)) {
      if (name) font = fonts.get(name) ?? []
      if (!shown.endsWith('TJ')) continue
      const codes = [...(strings ?? '').matchAll(/<([0-9a-f]+)>/gi)].flatMap(
        ([, hex]) => hex?.match(/.{4}/g) ?? [],
      )
      lines.push(codes.map((code) => font[Number.parseInt(code, 16)] ?? '?').join(''))
    }
  }
  return lines.join('\n')
}
