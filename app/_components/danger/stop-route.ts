import type { PermitState } from '@/lib/permit/types'

/** What a press of the slab sends to POST ROUTE/stop, or ROUTE/smoke. */
export interface StopRequest {
  readonly key: string
  /** The device's own clock at the first press of this key, ISO. */
  readonly deviceAt: string
  /** 'hold': the first press. 'stop': for good. 'smoke': smoke, glow or fire on a watch. */
  readonly step: 'hold' | 'stop' | 'smoke'
}

export interface RungPerson {
  readonly name: string
  /** When they saw it; null while they have not. */
  readonly seenAtMs: number | null
}

/** What the route answers when it has been recorded. */
export interface StopAnswer {
  readonly state: PermitState
  readonly atMs: number
  /** The watch that has started, where there is one. */
  readonly watchMinutes: number | null
  readonly watchUntilMs: number | null
  readonly rang: readonly RungPerson[]
}

export type StopOutcome =
  | { readonly ok: true; readonly answer: StopAnswer }
  | { readonly ok: false; readonly trouble: 'lost' | 'refused'; readonly code?: string }

const PATIENCE_MS = 8_000

function isStopAnswer(value: unknown): value is StopAnswer {
  return (
    typeof value === 'object' &&
    value !== null &&
    'state' in value &&
    'atMs' in value &&
    'rang' in value &&
    Array.isArray(value.rang)
  )
}

/** A plain route, so that nothing queues before it. It tells at once when it did not get through. */
export async function sendStop(route: string, request: StopRequest): Promise<StopOutcome> {
  try {
    const response = await fetch(`${route}/${request.step === 'smoke' ? 'smoke' : 'stop'}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(request),
      signal: AbortSignal.timeout(PATIENCE_MS),
      keepalive: true,
    })
    const body: unknown = await response.json()
    if (response.ok && isStopAnswer(body)) return { ok: true, answer: body }
    const code =
      typeof body === 'object' && body !== null && 'code' in body ? String(body.code) : undefined
    return code ? { ok: false, trouble: 'refused', code } : { ok: false, trouble: 'lost' }
  } catch {
    return { ok: false, trouble: 'lost' }
  }
}
