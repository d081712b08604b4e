/** What a message needs to say the code in words; instants are milliseconds. */
export type Params = Readonly<Record<string, string | number>>

/** One reason as data: `code` is a key in messages/en.json, `ruleId` the rule it rests on. */
export interface Reason {
  readonly code: string
  readonly params?: Params
  readonly ruleId?: string
}

/**
 * A refusal that someone is meant to read: a code and its values, never a sentence. Everything
 * else that is thrown is a bug and stays one.
 */
export class AppError extends Error {
  override readonly name = 'AppError'
  readonly code: string
  readonly params: Params
  readonly reasons: readonly Reason[]

  constructor(code: string, params: Params = {}, reasons: readonly Reason[] = []) {
    super(code)
    this.code = code
    this.params = params
    this.reasons = reasons
  }
}

const STATUS_OF_CODE: Readonly<Record<string, number>> = {
  SIGNED_OUT: 401,
  FORBIDDEN: 403,
  NOT_FOUND: 404,
  CONFLICT: 409,
  KEY_REUSED: 409,
  DUPLICATE: 409,
  INVALID_INPUT: 422,
  TOO_MANY_TRIES: 429,
  BUSY: 503,
}
const STATUS_OF_REFUSAL = 409

/** For routes: which HTTP status a refusal answers with. */
export function httpStatus(error: AppError): number {
  return STATUS_OF_CODE[error.code] ?? STATUS_OF_REFUSAL
}
