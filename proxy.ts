import { type NextRequest, NextResponse } from 'next/server'
import {
  CLIENT_ADDRESS_HEADER,
  REQUEST_ID_HEADER,
  REQUEST_PATH_HEADER,
  SOCKET_ADDRESS_HEADER,
} from '@/lib/auth/headers'
import { clientAddress, contentSecurityPolicy } from '@/lib/content-security'
import { env } from '@/lib/env'

const HSTS = 'max-age=31536000; includeSubDomains'
const isHttps = env.NEXTAUTH_URL?.startsWith('https:') ?? false

/** Gives each request its number, its nonce and the headers that only we may write. */
export function proxy(request: NextRequest) {
  const id = crypto.randomUUID()
  const nonce = btoa(crypto.randomUUID())
  const policy = contentSecurityPolicy({
    nonce,
    isDevelopment: env.NODE_ENV === 'development',
    isHttps,
  })

  const headers = new Headers(request.headers)
  headers.set(REQUEST_ID_HEADER, id)
  headers.set(REQUEST_PATH_HEADER, request.nextUrl.pathname + request.nextUrl.search)
  headers.set(
    CLIENT_ADDRESS_HEADER,
    clientAddress({
      socketAddress: request.headers.get(SOCKET_ADDRESS_HEADER),
      forwardedFor: request.headers.get('x-forwarded-for'),
      trustedProxies: env.TRUSTED_PROXIES,
    }),
  )
  headers.set('x-nonce', nonce)
  headers.set('content-security-policy', policy)

  const response = NextResponse.next({ request: { headers } })
  response.headers.set('content-security-policy', policy)
  response.headers.set(REQUEST_ID_HEADER, id)
  if (isHttps) response.headers.set('strict-transport-security', HSTS)
  return response
}

export const config = {
  // Files need no nonce. Uploads must not pass here: a request hook cuts bodies at 10 MB and still
  // answers 200.
  matcher: ['/((?!_next/static|_next/image|favicon.ico|icon|api/photos|api/uploads).*)'],
}
