import { readFile } from 'node:fs/promises'
import path from 'node:path'

const READER = path.join('node_modules', 'zxing-wasm', 'dist', 'reader', 'zxing_reader.wasm')

/** The bar code reader for phones whose browser has none: our own copy, never from elsewhere. */
export async function GET(): Promise<Response> {
  const bytes = await readFile(path.join(/* turbopackIgnore: true */ process.cwd(), READER))
  return new Response(new Uint8Array(bytes), {
    headers: {
      'content-type': 'application/wasm',
      'cache-control': 'public, max-age=31536000, immutable',
    },
  })
}
