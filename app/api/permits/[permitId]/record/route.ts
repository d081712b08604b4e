import { idIn } from '@/app/api/answer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { getWholeRecord } from '@/lib/data/records/whole'
import { AppError, httpStatus } from '@/lib/errors'
import { renderRecord } from './render'

type Context = Readonly<{ params: Promise<{ permitId: string }> }>

/** The final record as one file: every signature, entry and photo, with what ties them to the chain. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const { permitId } = await params
    const whole = await getWholeRecord(viewer, idIn(permitId))
    const { head } = whole.record
    const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
    return new Response(await renderRecord(whole, prefs), {
      headers: {
        'content-type': 'application/pdf',
        'content-disposition': `attachment; filename="permit-${head.number.replace(/[^0-9A-Za-z-]/g, '_')}.pdf"`,
        'cache-control': 'no-store',
        'x-content-type-options': 'nosniff',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
