import { expect, test } from 'vitest'
import { PDF_COLUMNS, plainPdf } from '@/lib/format/plain-pdf'

const fileOf = async (lines: readonly string[]) =>
  Buffer.from(await plainPdf(lines, { isPacked: false })).toString('latin1')

/** What each show-text operator draws. @source ISO 32000-1, 9.4.3: strings in hexadecimal between angle brackets */
const drawnIn = (file: string) =>
  [...file.matchAll(/\[([^\]]*)\] TJ/g)].map(([, shown = '']) =>
    [...shown.matchAll(/<([0-9a-f]*)>/g)]
      .map(([, hex = '']) => Buffer.from(hex, 'hex').toString('latin1'))
      .join(''),
  )

test('draws each line in its place, in the letters of the face', async () => {
  const drawn = drawnIn(await fileOf(['244 ft³ (oxygen) \\ 50 %', '', 'Marrowby’s depot']))
  // WinAnsi (ISO 32000-1, annex D): the apostrophe is 222 octal.
  expect(drawn.filter(Boolean)).toEqual(['244 ft³ (oxygen) \\ 50 %', 'Marrowby\x92s depot'])
})

test('lines that do not fit a page go on on the next, and none runs past the edge', async () => {
  const file = await fileOf(['x'.repeat(PDF_COLUMNS + 20), ...new Array<string>(60).fill('y')])
  expect(file.match(/\/Type \/Page\b/g)).toHaveLength(2)
  expect(drawnIn(file)[0]).toBe('x'.repeat(PDF_COLUMNS))
  expect(drawnIn(file)).toHaveLength(61)
})
