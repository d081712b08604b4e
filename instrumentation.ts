import type { Instrumentation } from 'next'

/** Runs once when a web process starts: wrong settings end it here, not at the first request; then time runs. */
export async function register() {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return
  const { env } = await import('@/lib/env')
  if (env.NEXT_PHASE === 'phase-production-build') return
  const { beforeServing, startTicking } = await import('@/lib/data/tick')
  await beforeServing()
  startTicking()
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
