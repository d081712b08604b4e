import 'server-only'
import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { mkdtemp, open, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { AppError } from './errors'

/** A file that came in, laid on disk while it is read, as often as wanted: its length takes no memory. */
export type Spool = Readonly<{ sha256: string; open: () => AsyncIterable<Uint8Array> }>

type Pieces = AsyncIterable<Uint8Array> | Iterable<Uint8Array>

/** Does `act` with what comes in; nothing of it stays on disk, however it ends. */
export async function withSpool<T>(
  pieces: Pieces,
  largest: number,
  act: (spool: Spool) => Promise<T>,
): Promise<T> {
  const folder = await mkdtemp(path.join(tmpdir(), 'kerfwatch-'))
  try {
    const at = path.join(folder, 'file')
    const sha256 = await write(at, pieces, largest)
    return await act({ sha256, open: () => createReadStream(at) })
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

async function write(at: string, pieces: Pieces, largest: number): Promise<string> {
  const hash = createHash('sha256')
  const file = await open(at, 'wx', 0o600)
  try {
    let size = 0
    for await (const piece of pieces) {
      size += piece.length
      if (size > largest)
        throw new AppError('FILE_TOO_LARGE', { limitKb: Math.floor(largest / 1000) })
      hash.update(piece)
      await file.write(piece)
    }
  } finally {
    await file.close()
  }
  return hash.digest('hex')
}
