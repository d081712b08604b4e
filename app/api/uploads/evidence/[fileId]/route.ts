import { idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { readEvidence } from '@/lib/data/evidence'
import { AppError, httpStatus } from '@/lib/errors'

type Context = Readonly<{ params: Promise<{ fileId: string }> }>

/** A paper, to look at or to keep: it never changes, and its own scripts are never run here. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  try {
    const { fileId } = await params
    const { mime, bytes } = await readEvidence(await requireRouteViewer(), idIn(fileId))
    const isPdf = mime === 'application/pdf'
    return new Response(bytes, {
      headers: {
        'content-type': mime,
        'content-disposition': isPdf ? 'attachment; filename="evidence.pdf"' : 'inline',
        'cache-control': 'private, max-age=86400, immutable',
        'x-content-type-options': 'nosniff',
        'content-security-policy': "default-src 'none'; sandbox",
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
