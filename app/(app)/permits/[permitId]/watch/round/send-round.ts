import type { ActionResult } from '@/lib/action-result'

/** Fields of the form that answer a post begin with this, its code and why there is none with those. */
export const POST_FIELD = 'post:'
export const CODE_FIELD = 'code:'
export const UNSCANNED_FIELD = 'unscanned:'

type Sent = ActionResult<{ permitId: string; roundId: string; worst: string }>

function bodyOf(formData: FormData) {
  const posts = [...formData]
    .filter(([name]) => name.startsWith(POST_FIELD))
    .map(([name, answer]) => {
      const post = name.slice(POST_FIELD.length)
      const code = formData.get(`${CODE_FIELD}${post}`)
      const unscanned = formData.get(`${UNSCANNED_FIELD}${post}`)
      return {
        post,
        answer,
        ...(code ? { code } : {}),
        ...(!code && unscanned ? { unscanned } : {}),
      }
    })
  return { key: formData.get('key'), deviceAt: formData.get('deviceAt') ?? '', posts }
}

/** Sends a round to its route, which nothing queues before; the answer is the same as an action's. */
export async function sendRound(permitId: string, formData: FormData): Promise<Sent> {
  const response = await fetch(`/api/permits/${encodeURIComponent(permitId)}/round`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(bodyOf(formData)),
    signal: AbortSignal.timeout(10_000),
  })
  const answer: unknown = await response.json()
  if (typeof answer === 'object' && answer !== null && 'ok' in answer) return answer as Sent
  throw new Error('no answer to a round')
}
