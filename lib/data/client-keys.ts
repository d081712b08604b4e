import 'server-only'
import { createHash } from 'node:crypto'
import { AppError } from '@/lib/errors'
import type { Prisma } from './generated/client'
import type { Tx } from './tx'

export type OnceInput = Readonly<{ key: string; action: string; input: unknown }>

/** JSON with sorted keys, so that two equal inputs hash alike whatever order their fields came in. */
function canonical(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(canonical)
  if (value instanceof Date) return value.toISOString()
  if (typeof value !== 'object' || value === null) return value
  const entries = Object.entries(value).filter(([, inner]) => inner !== undefined)
  return Object.fromEntries(
    entries.sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, inner]) => [key, canonical(inner)]),
  )
}

/** What is kept of an input beside its key. */
export const hashOf = (input: unknown) =>
  createHash('sha256')
    .update(JSON.stringify(canonical(input)) ?? 'null')
    .digest('hex')

/**
 * Does `fn` once for a submission. The key is claimed first, in the caller's transaction: a second
 * submission waits for the first, then gets the stored result. A refusal rolls the claim back.
 * Secrets such as a PIN stay out of `input`: its hash is kept.
 */
export async function once<T extends Prisma.InputJsonValue>(
  tx: Tx,
  viewer: Readonly<{ personId: string }>,
  { key, action, input }: OnceInput,
  fn: () => Promise<T>,
): Promise<T> {
  const inputHash = hashOf(input)
  const claimed = await tx.$executeRaw`
    INSERT INTO client_keys (person_id, key, action, input_hash)
    VALUES (${viewer.personId}::uuid, ${key}, ${action}, ${inputHash})
    ON CONFLICT DO NOTHING`
  if (claimed === 0) return storedResult<T>(tx, viewer.personId, { key, action, inputHash })
  const result = await fn()
  await tx.$executeRaw`
    UPDATE client_keys SET result = ${JSON.stringify(result)}::jsonb
    WHERE person_id = ${viewer.personId}::uuid AND key = ${key}`
  return result
}

/**
 * The stored result of a submission that was made before, else null. For acts that spend a try of
 * a PIN before their transaction: a repeated sending must neither spend another nor be refused.
 */
export async function doneBefore<T>(
  client: Tx,
  viewer: Readonly<{ personId: string }>,
  { key, action, input }: OnceInput,
): Promise<T | null> {
  const known = await client.clientKey.count({ where: { personId: viewer.personId, key } })
  return known === 0
    ? null
    : storedResult<T>(client, viewer.personId, { key, action, inputHash: hashOf(input) })
}

type Wanted = Readonly<{ key: string; action: string; inputHash: string }>
/** What stands under a key that was claimed before; nothing where the claim was rolled back since. */
export type Kept<T> = Readonly<{ action: string; inputHash: string; result: T }>

/** The result that is kept under a key, for the very submission that claimed it. */
export function resultOf<T>(kept: Kept<T> | null | undefined, wanted: Omit<Wanted, 'key'>): T {
  if (!kept || kept.action !== wanted.action || kept.inputHash !== wanted.inputHash) {
    throw new AppError('KEY_REUSED', { action: wanted.action })
  }
  return kept.result
}

async function storedResult<T>(tx: Tx, personId: string, wanted: Wanted): Promise<T> {
  const [kept] = await tx.$queryRaw<Kept<T>[]>`
    SELECT action, input_hash AS "inputHash", result FROM client_keys
    WHERE person_id = ${personId}::uuid AND key = ${wanted.key}`
  return resultOf(kept, wanted)
}
