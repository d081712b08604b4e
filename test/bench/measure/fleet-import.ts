import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import { takeImportBatch } from '@/lib/data/fleet-import'
import { keepFleetFile } from '@/lib/data/fleet-import-file'
import { LARGEST_FLEET_FILE } from '@/lib/schemas/fleet-import'
import { withSpool } from '@/lib/spool'
import { worldOf } from './fleet-acts'

const MB = 1_048_576
const LINES_A_PIECE = 500

export type Imported = Readonly<{ done: number; seconds: number; keptMb: number; grownMb: number }>

/** A file of so many cylinders as it comes over the wire: made while it is read. */
function* fileOf(count: number, tag: string): Generator<Uint8Array> {
  const text = new TextEncoder()
  yield text.encode('Serial,Gas,Size,Owned,Status,Due\n')
  for (let from = 0; from < count; from += LINES_A_PIECE) {
    const lines = Array.from(
      { length: Math.min(LINES_A_PIECE, count - from) },
      (_, i) => `${tag}-${100_000 + from + i},O2,244,owned,full,2031-05\n`,
    )
    yield text.encode(lines.join(''))
  }
}

/** What lives on after a collection: without one, a heap tells only when it was last swept. */
function livingMb(): number {
  if (!globalThis.gc) throw new Error('run with --expose-gc')
  globalThis.gc()
  const { heapUsed, external } = process.memoryUsage()
  return (heapUsed + external) / MB
}

/**
 * Keeps a file and takes it in, batch by batch. What it grows by: the most at any time after the
 * first tenth of each step, over what lived before the file came.
 */
export async function importFleet(
  client: pg.Client,
  { count, tag }: Readonly<{ count: number; tag: string }>,
): Promise<Imported> {
  const { siteId, viewer } = await worldOf(client)
  const before = livingMb()
  const from = performance.now()
  let most = 0
  let pieces = 0
  function* watched() {
    for (const piece of fileOf(count, tag)) {
      pieces += 1
      if (pieces % 20 === 0) most = Math.max(most, livingMb())
      yield piece
    }
  }
  const timer = setInterval(() => {
    most = Math.max(most, livingMb())
  }, 250)
  const { importId } = await withSpool(watched(), LARGEST_FLEET_FILE, (file) =>
    keepFleetFile(viewer, { key: randomUUID(), siteId, fileName: 'fleet.csv', file }),
  )
  clearInterval(timer)
  const keptMb = most - before
  let [done, after] = [0, 0]
  for (let left = count; left > 0; ) {
    const batch = await takeImportBatch(viewer, { key: randomUUID(), importId })
    left = batch.left
    done += batch.taken
    if (done % 2_000 === 0) after = Math.max(after, livingMb())
  }
  const seconds = (performance.now() - from) / 1_000
  return { done, seconds, keptMb, grownMb: after - before }
}
