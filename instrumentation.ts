import type { Instrumentation } from 'next'

/** Runs once when a web process starts: wrong settings end it here, not at the first request. */
export async function register() {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return
  await import('@/lib/env')
}

/** Every error that no code of ours expected, with the request's number and no personal data. */
export const onRequestError: Instrumentation.onRequestError = async (error, request, context) => {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return
  const { log } = await import('@/lib/log')
  const requestId = request.headers['x-request-id']
  log.error(
    { err: error, requestId, route: context.routePath, kind: context.routeType },
    'request.failed',
  )
}
