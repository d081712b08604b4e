import type { Action, Role } from '@/lib/access/access'
import type { Fact, Row } from '../facts'

/** Where facts go: kept in order for the demo company, or played at once for a test. */
export type Scribe = Readonly<{
  newId: (atMs: number) => string
  write: (fact: Fact) => void
}>

/** Somebody at a moment, in the role they act in. */
export type Doing = Readonly<{ atMs: number; personId: string; role: Role }>

/** One record, inserted by the person who did it. */
export function writeRow(
  scribe: Scribe,
  doing: Doing,
  act: Action,
  table: string,
  ...rows: readonly Row[]
): void {
  const { atMs, personId, role } = doing
  scribe.write({ atMs, by: { personId, role, act }, table, rows })
}

/** Plain columns of one record, changed by the person who did it. */
export function writeChange(
  scribe: Scribe,
  doing: Doing,
  act: Action,
  target: Readonly<{ table: string; id: string; set: Row }>,
): void {
  const { atMs, personId, role } = doing
  scribe.write({ atMs, by: { personId, role, act }, ...target })
}

/** Before anybody is there to act: the start of a company. */
export function writeSetUp(
  scribe: Scribe,
  atMs: number,
  table: string,
  ...rows: readonly Row[]
): void {
  scribe.write({ atMs, by: { personId: null, role: 'system', act: 'setup' }, table, rows })
}
