import 'server-only'
import { hash, verify } from '@node-rs/argon2'

/** argon2id with the library's defaults: 19 MiB, two passes, one lane (OWASP's first choice). */
export async function hashSecret(secret: string): Promise<string> {
  return hash(secret)
}

let decoy: Promise<string> | undefined

/**
 * Compares a typed secret with the kept hash. Without one it still does the work, so that the time
 * an answer takes does not tell whether somebody is known.
 */
export async function verifySecret(kept: string | null, typed: string): Promise<boolean> {
  decoy ??= hashSecret('nobody has this secret')
  const matches = await verify(kept ?? (await decoy), typed)
  return kept !== null && matches
}
