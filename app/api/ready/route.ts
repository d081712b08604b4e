import { checkReadiness } from '@/lib/data/readiness'
import { log } from '@/lib/log'

export const dynamic = 'force-dynamic'

/** Whether this process may be sent people: database, migrations, and the shipped clock. */
export async function GET() {
  const readiness = await checkReadiness()
  if (!readiness.ok) log.error({ ...readiness }, 'ready.refused')
  return Response.json(readiness, {
    status: readiness.ok ? 200 : 503,
    headers: { 'cache-control': 'no-store' },
  })
}
