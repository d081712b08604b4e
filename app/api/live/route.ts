import { sitesWhere } from '@/lib/access/access'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { onCommitted } from '@/lib/data/live'
import { AppError, httpStatus } from '@/lib/errors'

const BEAT_MS = 20_000
const SETTLE_MS = 150
// A stream outlives sign-outs and revoked grants; ending it makes the browser ask again as who it is now.
const LONGEST_MS = 5 * 60_000

/** Says "something changed at one of your sites", nothing more: the page then reads what it may. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const siteIds = new Set(sitesWhere(viewer, 'site:read'))
    return new Response(changesAt(siteIds, request.signal), {
      headers: {
        'content-type': 'text/event-stream',
        'cache-control': 'no-store',
        'x-accel-buffering': 'no',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}

function changesAt(siteIds: ReadonlySet<string>, signal: AbortSignal): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder()
  const stopping = new AbortController()
  const ended = AbortSignal.any([signal, stopping.signal])
  return new ReadableStream({
    start(controller) {
      const send = (text: string) => {
        if (!ended.aborted) controller.enqueue(encoder.encode(text))
      }
      let settle: ReturnType<typeof setTimeout> | undefined
      const leave = onCommitted((siteId) => {
        if (!siteIds.has(siteId)) return
        clearTimeout(settle)
        settle = setTimeout(() => send('data: changed\n\n'), SETTLE_MS)
      })
      const beat = setInterval(() => send(': beat\n\n'), BEAT_MS)
      const longest = setTimeout(() => stopping.abort(), LONGEST_MS)
      ended.addEventListener('abort', () => {
        leave()
        clearTimeout(settle)
        clearTimeout(longest)
        clearInterval(beat)
        try {
          controller.close()
        } catch {
          // the reader has gone already
        }
      })
      send('retry: 3000\n\n')
    },
    cancel: () => stopping.abort(),
  })
}
