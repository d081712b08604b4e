import { AsyncLocalStorage } from 'node:async_hooks'
import pino from 'pino'
import { env } from '@/lib/env'

const requests = new AsyncLocalStorage<{ id: string | null }>()

/** The number of the request being answered; null in background work. */
export function requestId(): string | null {
  return requests.getStore()?.id ?? null
}

/**
 * Marks everything the caller does from here on as part of one request. Call it before the first
 * `await`; the number itself may be filled in later.
 */
export function enterRequest(): { id: string | null } {
  const known = requests.getStore()
  if (known) return known
  const request = { id: null }
  requests.enterWith(request)
  return request
}

const REMOVED = '[removed]'
const PERSONAL_WORDS = new Set(
  'name email mail phone password pin hash secret token cookie authorization address ip text note body query params values url'.split(
    ' ',
  ),
)
const wordsOf = (key: string) =>
  key
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z]+/)

/** A log line without anything that names a person or repeats what someone typed. */
export function withoutPersonalData(value: unknown, depth = 0): unknown {
  if (value instanceof Error) return describeError(value)
  if (typeof value !== 'object' || value === null) return value
  if (depth > 4) return REMOVED
  if (Array.isArray(value)) return value.map((item) => withoutPersonalData(item, depth + 1))
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [
      key,
      wordsOf(key).some((word) => PERSONAL_WORDS.has(word))
        ? REMOVED
        : withoutPersonalData(inner, depth + 1),
    ]),
  )
}

/** An error's kind, code and where it was thrown; its message may quote a row or a form. */
export function describeError(error: Error): Record<string, unknown> {
  const code = 'code' in error && typeof error.code === 'string' ? error.code : undefined
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line))
  return { type: error.name, code, at: frames.slice(0, 12).map((line) => line.trim()) }
}

/** One JSON object a line, with the request's number. Events are codes: `log.info({ ... }, 'permit.issued')`. */
export const log = pino({
  level: env.NODE_ENV === 'test' ? 'silent' : env.LOG_LEVEL,
  base: null,
  timestamp: pino.stdTimeFunctions.isoTime,
  messageKey: 'event',
  formatters: {
    level: (label) => ({ level: label }),
    log: (line) => withoutPersonalData(line) as Record<string, unknown>,
  },
  serializers: { err: (error: unknown) => error },
  mixin: () => {
    const id = requestId()
    return id === null ? {} : { requestId: id }
  },
})
