import type { TestApp } from '../e2e/app'
import { cookieOf } from './send'

/** What came of asking for a page or a route. */
interface Seen {
  outcome: 'shown' | 'missing' | 'forbidden' | 'signed out' | `failed ${string}`
  text: string
}

/**
 * A page that has begun to stream tells inside it what its status can no longer say: beside what it
 * waited for, or in a script when that was shown already.
 */
const streamed = (text: string) =>
  [...text.matchAll(/data-dgst="([^"]*)"|\$RX\("[^"]*","([^"]*)"/g)].map(
    (hit) => hit[1] ?? hit[2] ?? '',
  )

function outcomeOf(status: number, location: string, text: string): Seen['outcome'] {
  const told = streamed(text)
  const target = location || (told.find((one) => one.startsWith('NEXT_REDIRECT')) ?? '')
  if (status === 401 || target.includes('/sign-in')) return 'signed out'
  if (status === 404 || told.some((one) => one.endsWith(';404'))) return 'missing'
  if (status === 403) return 'forbidden'
  const isBroken = told.some((one) => !one.startsWith('NEXT_REDIRECT'))
  if (status >= 400 || isBroken) return `failed ${status} ${told.join(' ')}`
  return 'shown'
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
