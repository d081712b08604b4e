import { Readable } from 'node:stream'
import Papa from 'papaparse'
import { delimiterOf, textReader } from '@/lib/schemas/csv-text'

/**
 * Letters of a file, however its lines end. A sign at the end of a piece waits for the next, and the first
 * line for its end: it tells what parts the cells.
 */
async function* lettersOf(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const reader = textReader()
  let held = ''
  let hasLine = false
  for await (const piece of pieces) {
    held += reader.push(piece)
    hasLine ||= held.includes('\n')
    if (!hasLine) continue
    const whole = held.endsWith('\r') ? held.slice(0, -1) : held
    held = held.slice(whole.length)
    if (whole !== '') yield whole.replaceAll(/\r\n?/g, '\n')
  }
  const rest = held + reader.end()
  if (rest !== '') yield rest.replaceAll(/\r\n?/g, '\n')
}

/** Each row of a file of text, while it is read. */
export async function* rowsOfCsvFile(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<string[]> {
  const letters = Readable.from(lettersOf(pieces))
  const rows = Papa.parse(Papa.NODE_STREAM_INPUT, { delimiter: delimiterOf, newline: '\n' })
  letters.on('error', (error) => rows.destroy(error))
  letters.pipe(rows)
  try {
    for await (const row of rows) yield row as string[]
  } finally {
    letters.destroy()
  }
}
