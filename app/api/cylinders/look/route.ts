import { z } from 'zod'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { lookUpCode } from '@/lib/data/scan'
import { AppError, httpStatus } from '@/lib/errors'

const MOST_READ = 200
const asked = z.object({
  site: z.uuid(),
  code: z.string().min(1).max(MOST_READ),
  gas: z
    .string()
    .regex(/^[a-z_]{2,20}$/)
    .nullable()
    .catch(null),
})

/** What the record says of a code that a phone just read. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const query = new URL(request.url).searchParams
    const { site, code, gas } = asked.parse({
      site: query.get('site'),
      code: query.get('code'),
      gas: query.get('gas'),
    })
    const answer = await lookUpCode(viewer, { siteId: site, code, wantedGas: gas })
    return Response.json({ ok: true, answer }, { headers: { 'cache-control': 'no-store' } })
  } catch (error) {
    if (error instanceof z.ZodError)
      return Response.json({ ok: false, code: 'INVALID_INPUT' }, { status: 422 })
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
