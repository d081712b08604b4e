import { idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { readPicture } from '@/lib/data/pictures/pictures'
import { AppError, httpStatus } from '@/lib/errors'

type Context = Readonly<{ params: Promise<{ pictureId: string }> }>

/** A picture of a permit. It never changes, so a browser may keep it, for this person only. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  try {
    const { pictureId } = await params
    const { mime, bytes } = await readPicture(await requireRouteViewer(), idIn(pictureId))
    return new Response(bytes, {
      headers: {
        'content-type': mime,
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
