import 'server-only'
import { cookies, headers } from 'next/headers'
import { redirect } from 'next/navigation'
import { cache } from 'react'
import type { Viewer } from '@/lib/access/viewer'
import { readViewer } from '@/lib/data/auth'
import { AppError } from '@/lib/errors'
import { enterRequest } from '@/lib/log'
import { REQUEST_ID_HEADER, REQUEST_PATH_HEADER } from './headers'
import { SESSION_COOKIE, SESSION_SECRET } from './options'
import { sessionOpener } from './session-token'

const openSession = sessionOpener(SESSION_SECRET)

const loadViewer = cache(async (): Promise<Viewer | null> => {
  const token = (await cookies()).get(SESSION_COOKIE)?.value
  if (token === undefined) return null
  // What does not open, or has run out, is nobody's.
  const session = await openSession(token)
  if (!session?.personId) return null
  return readViewer(session.personId, session.epoch)
})

/** Who is signed in, from the database; null when nobody is or the session has ended. */
export function getViewer(): Promise<Viewer | null> {
  const request = enterRequest() // before the first await, so that the caller's log lines carry it
  return (async () => {
    request.id ??= (await headers()).get(REQUEST_ID_HEADER)
    return loadViewer()
  })()
}

async function toSignIn(): Promise<never> {
  const path = (await headers()).get(REQUEST_PATH_HEADER)
  redirect(path && path !== '/' ? `/sign-in?next=${encodeURIComponent(path)}` : '/sign-in')
}

/** For pages and actions: the viewer, or on to the sign-in page and back. Keep it outside `try`. */
export function requireViewer(): Promise<Viewer> {
  const viewer = getViewer()
  return viewer.then((found) => {
    if (!found) return toSignIn()
    if (found.mustBegin) redirect('/begin')
    return found
  })
}

/** For the one page where somebody sets their own password, and its action. */
export function requireAnyViewer(): Promise<Viewer> {
  return getViewer().then((found) => found ?? toSignIn())
}

/** For routes: the viewer, or AppError SIGNED_OUT. */
export function requireRouteViewer(): Promise<Viewer> {
  return getViewer().then((found) => {
    if (!found) throw new AppError('SIGNED_OUT')
    if (found.mustBegin) throw new AppError('OWN_PASSWORD_FIRST')
    return found
  })
}
