import { requireRouteViewer } from '@/lib/auth/viewer'
import { listAlarms } from '@/lib/data/today/alarms'
import { AppError, httpStatus } from '@/lib/errors'

/** What rings on this person's phone now. A route, since it is asked for whatever page is open. */
export async function GET(): Promise<Response> {
  try {
    const alarms = await listAlarms(await requireRouteViewer())
    return Response.json({ ok: true, alarms }, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
