import 'server-only'
import { randomInt } from 'node:crypto'

/** Without signs that are read for one another: 0 and o, 1 and l. */
const SIGNS = 'abcdefghjkmnpqrstuvwxyz23456789'
const GROUPS = 3
const GROUP_LENGTH = 4

/** House judgement, no source: long enough to be handed over, short enough not to lie about. */
export const ONCE_DAYS = 7

/** A password to read out or write on a slip, for one sign-in: 31^12, or 59 bits. */
export function makeOncePassword(): string {
  const group = () =>
    Array.from({ length: GROUP_LENGTH }, () => SIGNS[randomInt(SIGNS.length)]).join('')
  return Array.from({ length: GROUPS }, group).join('-')
}
