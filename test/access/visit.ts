import type { TestApp } from '../e2e/app'
import { cookieOf } from './send'

/** What came of asking for a page or a route. */
interface Seen {
  outcome: 'shown' | 'missing' | 'forbidden' | 'signed out' | `failed ${string}`
  text: string
}

/** A page is sent whole, and its status says what came of it: nothing is left to be told further down. */
const isTornOff = (text: string) => /data-dgst="|\$RX\("/.test(text)

function outcomeOf(status: number, location: string, text: string): Seen['outcome'] {
  if (status === 401 || location.includes('/sign-in')) return 'signed out'
  if (status === 404) return 'missing'
  if (status === 403) return 'forbidden'
  return status >= 400 || isTornOff(text) ? `failed ${status}` : 'shown'
}

/** Everything that is said, or what a stream that never ends says first. */
async function textOf(response: Response): Promise<string> {
  if (response.headers.get('content-type') !== 'text/event-stream') return response.text()
  const reader = response.body?.getReader()
  const first = await reader?.read()
  await reader?.cancel()
  return new TextDecoder().decode(first?.value)
}

export async function see(
  app: TestApp,
  path: string,
  { email, post }: Readonly<{ email: string | null; post?: object | Buffer | undefined }>,
): Promise<Seen> {
  const cookie = await cookieOf(app, email)
  const response = await fetch(`${app.url}${path}`, {
    redirect: 'manual',
    headers: {
      ...(cookie ? { cookie } : {}),
      ...(post
        ? {
            origin: app.url,
            'content-type': Buffer.isBuffer(post) ? 'image/png' : 'application/json',
          }
        : {}),
    },
    ...(post
      ? {
          method: 'POST',
          body: Buffer.isBuffer(post) ? new Uint8Array(post) : JSON.stringify(post),
        }
      : {}),
  })
  const text = await textOf(response)
  const outcome = outcomeOf(response.status, response.headers.get('location') ?? '', text)
  return { outcome, text }
}
