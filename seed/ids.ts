import { createHash } from 'node:crypto'

const hex = (value: number, digits: number) => value.toString(16).padStart(digits, '0')

/**
 * A UUID of version 7 whose time is `atMs` and whose other bits follow from a name: the demo company
 * keeps its ids from one seeding to the next.
 */
export function namedUuid(name: string, atMs: number): string {
  const rest = createHash('sha256').update(name).digest('hex')
  const time = hex(Math.max(0, Math.floor(atMs)), 12)
  const variant = hex((Number.parseInt(rest.slice(3, 4), 16) & 0x3) | 0x8, 1)
  return `${time.slice(0, 8)}-${time.slice(8)}-7${rest.slice(0, 3)}-${variant}${rest.slice(4, 7)}-${rest.slice(7, 19)}`
}
