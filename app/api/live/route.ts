import type { Viewer } from '@/lib/access/viewer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { lastNowMs, liveSince, onCommitted, sharedNowMs } from '@/lib/data/live'
import { AppError, httpStatus } from '@/lib/errors'
import { log } from '@/lib/log'
import { gather } from './gather'

const BEAT_MS = 20_000
// A change is seen within a second, and a screen of a busy site is not written to for each.
const SPANS = { firstMs: 50, apartMs: 800 }
// A stream outlives sign-outs and revoked grants; ending it makes the browser ask again as who it is now.
const LONGEST_MS = 5 * 60_000

/**
 * Says "so much changed at one of your sites", nothing more: the page then reads what it may. The number of a message
 * is the database's clock; whoever comes again with it is told of what they missed.
 */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    return new Response(changesFor(viewer, seenUntil(request), request.signal), {
      headers: {
        'content-type': 'text/event-stream',
        // Packed, each screen would hold a quarter of a megabyte, for a few bytes a minute.
        'cache-control': 'no-store, no-transform',
        'x-accel-buffering': 'no',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}

/** What a browser that connects again by itself says, else what the page says; null for neither. */
function seenUntil(request: Request): number | null {
  const said =
    request.headers.get('last-event-id') || new URL(request.url).searchParams.get('since')
  const ms = Number(said)
  return said && Number.isSafeInteger(ms) && ms >= 0 ? ms : null
}

function changesFor(
  viewer: Viewer,
  sinceMs: number | null,
  signal: AbortSignal,
): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder()
  const stopping = new AbortController()
  const ended = AbortSignal.any([signal, stopping.signal])
  return new ReadableStream({
    start(controller) {
      const send = (text: string) => {
        if (!ended.aborted) controller.enqueue(encoder.encode(text))
      }
      const tell = (nowMs: number, changes: number) =>
        send(`id: ${nowMs}\ndata: ${JSON.stringify({ changes })}\n\n`)
      const tellTime = (nowMs: number) => send(`event: clock\ndata: ${nowMs}\n\n`)
      const gathered = gather((changes) => tell(lastNowMs(), changes), SPANS)
      const leave = onCommitted(viewer, gathered.add)
      const beat = setInterval(() => void sharedNowMs().then(tellTime, stop), BEAT_MS)
      const longest = setTimeout(() => stopping.abort(), LONGEST_MS)
      function stop(error: unknown) {
        log.warn({ err: error }, 'live.stopped')
        stopping.abort()
      }
      ended.addEventListener('abort', () => {
        leave()
        gathered.stop()
        clearTimeout(longest)
        clearInterval(beat)
        try {
          controller.close()
        } catch {
          // the reader has gone already
        }
      })
      send('retry: 3000\n\n')
      liveSince(viewer, sinceMs).then(({ nowMs, isBehind }) => {
        tellTime(nowMs)
        if (isBehind) tell(nowMs, 0) // how much is not known, only that
      }, stop)
    },
    cancel: () => stopping.abort(),
  })
}
