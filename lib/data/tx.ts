import 'server-only'
import { requestId } from '@/lib/log'
import { db } from './client'
import type { Prisma } from './generated/client'
import { isTransient, toRefusal } from './refusals'

export type Tx = Prisma.TransactionClient

/** Who acts, as the audit chain names them. `roles` are the ones held when acting. */
export type Actor = Readonly<{ personId: string | null; roles: readonly string[] }>

/** Background work: expiries, missed rounds, checks of the chain. */
export const SYSTEM: Actor = { personId: null, roles: ['system'] }

const LIMITS = { maxWait: 4_000, timeout: 12_000 } as const
/** For what writes thousands of rows at once: a file that came in, a batch of it. */
export const LONG_LIMITS = { maxWait: 4_000, timeout: 120_000 } as const
const TRIES = 3

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** The settings that the database's audit triggers read; they end with the transaction. */
async function nameActor(tx: Tx, actor: Actor, act: string): Promise<void> {
  await tx.$executeRaw`
    SELECT set_config('kerf.actor_id', ${actor.personId ?? ''}, true),
           set_config('kerf.actor_role', ${actor.roles.join(',')}, true),
           set_config('kerf.act', ${act}, true),
           set_config('kerf.request_id', ${requestId() ?? ''}, true)`
}

/**
 * A deadlock or a lost race for a connection is tried again; what stays busy is refused as BUSY, to be sent again with the
 * same key.
 */
export async function triedAgain<T>(work: () => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await work()
    } catch (error) {
      if (attempt >= TRIES || !isTransient(error)) throw toRefusal(error)
      await pause(attempt * 40 * (1 + Math.random()))
    }
  }
}

/**
 * Runs `fn` in one transaction in the actor's name. Every write of the app goes through here, but for the press of stop,
 * which is one statement: the database refuses a fact without an actor. It is tried again, so `fn` must touch nothing but
 * `tx`.
 */
export async function inTransaction<T>(
  viewer: Actor,
  act: string,
  fn: (tx: Tx) => Promise<T>,
  limits: typeof LIMITS | typeof LONG_LIMITS = LIMITS,
): Promise<T> {
  return triedAgain(() =>
    db.$transaction(async (tx) => {
      await nameActor(tx, viewer, act)
      return fn(tx)
    }, limits),
  )
}
