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
  try {
    assertSameOrigin(request)
    const answer = await act(await readBody(request, schema))
    return Response.json({ ok: true, ...answer })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    const { code, params, reasons } = error
    return Response.json(
      { ok: false, code, params, reasons, fieldErrors: {}, values: {} },
      { status: httpStatus(error) },
    )
  }
}
