import { expect, test } from 'vitest'
import { PDF_COLUMNS, plainPdf } from '@/lib/format/plain-pdf'
import { pdfText } from '../../setup/pdf-text'

const linesOf = async (lines: readonly string[]) => pdfText(await plainPdf(lines)).split('\n')

test('draws each line in its place, in the letters of the face', async () => {
  const drawn = await linesOf(['244 ft³ (oxygen) \\ 50 %', '', 'Marrowby’s depot'])
  expect(drawn.filter(Boolean)).toEqual(['244 ft³ (oxygen) \\ 50 %', 'Marrowby’s depot'])
})

test('writes suppliers and sites in Polish, Greek and Cyrillic letters as they are', async () => {
  const names = ['Zakład Gazów Łódź', 'Αέρια Πειραιώς', 'Гази Дніпра – −5 °C']
  expect((await linesOf(names)).filter(Boolean)).toEqual(names)
})

test('lines that do not fit a page go on on the next, and none runs past the edge', async () => {
  const lines = ['x'.repeat(PDF_COLUMNS + 20), ...new Array<string>(60).fill('y')]
  const file = await plainPdf(lines)
  expect(
    Buffer.from(file)
      .toString('latin1')
      .match(/\/Type \/Page\b/g),
  ).toHaveLength(2)
  const drawn = pdfText(file).split('\n').filter(Boolean)
  expect(drawn[0]).toBe('x'.repeat(PDF_COLUMNS))
  expect(drawn).toHaveLength(61)
})
