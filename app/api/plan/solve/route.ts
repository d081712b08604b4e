import { requireRouteViewer } from '@/lib/auth/viewer'
import { assertMayPlan, solveSupply } from '@/lib/data/plan/plan'
import { AppError, httpStatus } from '@/lib/errors'
import { planAskOf } from '@/lib/schemas/plan'

/** Looks for a better plan and tells how far it is, a line of JSON each; the page is refreshed at the end. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    assertMayPlan(viewer)
    const ask = planAskOf(Object.fromEntries(new URL(request.url).searchParams))
    const encoder = new TextEncoder()
    const body = new ReadableStream({
      async start(controller) {
        const tell = (message: object) => {
          try {
            controller.enqueue(encoder.encode(`${JSON.stringify(message)}\n`))
          } catch {
            // Whoever asked has left; the plan is kept all the same.
          }
        }
        const found = await solveSupply(viewer, ask, (progress) =>
          tell({ kind: 'progress', part: progress.part, parts: progress.parts }),
        )
        tell({ kind: 'done', ...found })
        try {
          controller.close()
        } catch {
          // As above.
        }
      },
    })
    return new Response(body, {
      headers: { 'content-type': 'application/x-ndjson', 'cache-control': 'no-store' },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
