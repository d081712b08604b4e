import 'server-only'
import { z } from 'zod'
import { assertSameOrigin } from '@/lib/auth/same-origin'
import { AppError, httpStatus } from '@/lib/errors'

async function readBody<S extends z.ZodType>(request: Request, schema: S): Promise<z.output<S>> {
  const body: unknown = await request.json().catch(() => null)
  const parsed = schema.safeParse(body)
  if (!parsed.success) throw new AppError('INVALID_INPUT', { count: parsed.error.issues.length })
  return parsed.data
}

/** An address that names no possible id names nothing. */
export function idIn(text: string): string {
  if (!z.uuid().safeParse(text).success) throw new AppError('NOT_FOUND')
  return text
}

/**
 * The one shape of a route that changes something: from our own pages only, parsed, done, and what
 * was refused as data. `act` says who may.
 */
export async function answerPost<S extends z.ZodType, T extends object>(
  request: Request,
  schema: S,
  act: (input: z.output<S>) => Promise<T>,
): Promise<Response> {
  return answering(request, async () => act(await readBody(request, schema)))
}

/** Packing a few hundred bytes would take longer than the act itself. */
const HEADERS = { 'cache-control': 'no-store, no-transform' }

async function answering(request: Request, act: () => Promise<object>): Promise<Response> {
  try {
    assertSameOrigin(request)
    return Response.json({ ok: true, ...(await act()) }, { headers: HEADERS })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    const { code, params, reasons } = error
    return Response.json(
      { ok: false, code, params, reasons, fieldErrors: {}, values: {} },
      { status: httpStatus(error), headers: HEADERS },
    )
  }
}

/** The body as it comes; whoever stops reading closes it. */
async function* piecesOf(request: Request): AsyncGenerator<Uint8Array> {
  const reader = request.body?.getReader()
  try {
    while (reader) {
      const { done, value } = await reader.read()
      if (done) return
      yield value
    }
  } finally {
    await reader?.cancel()
  }
}

/** All of it, read no further than it may be long. */
async function held(pieces: AsyncIterable<Uint8Array>, largest: number): Promise<Buffer> {
  const parts: Uint8Array[] = []
  let size = 0
  for await (const piece of pieces) {
    size += piece.length
    if (size > largest)
      throw new AppError('PICTURE_TOO_LARGE', { limitKb: Math.floor(largest / 1000) })
    parts.push(piece)
  }
  return Buffer.concat(parts)
}

/** The same for a route that takes a file as it comes: what is said about it stands in the address. */
export async function answerStream<S extends z.ZodType, T extends object>(
  request: Request,
  schema: S,
  act: (input: z.output<S>, pieces: AsyncIterable<Uint8Array>) => Promise<T>,
): Promise<Response> {
  return answering(request, async () => {
    const said = Object.fromEntries(new URL(request.url).searchParams)
    const parsed = schema.safeParse(said)
    if (!parsed.success) throw new AppError('INVALID_INPUT', { count: parsed.error.issues.length })
    return act(parsed.data, piecesOf(request))
  })
}

/** The same for a file that is small enough to be held whole. */
export async function answerFile<S extends z.ZodType, T extends object>(
  request: Request,
  { schema, largest }: Readonly<{ schema: S; largest: number }>,
  act: (input: z.output<S>, file: Buffer) => Promise<T>,
): Promise<Response> {
  return answerStream(request, schema, async (input, pieces) =>
    act(input, await held(pieces, largest)),
  )
}
