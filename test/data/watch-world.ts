import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { recordRound } from '@/lib/data/watch/round'
import { roundSchema } from '@/lib/schemas/watch'
import { testDatabase } from '../setup/database'

const MINUTE_MS = 60_000
let offsetMs = 0

/** Moves this file's clock to so many minutes from the start of the file; never back. */
export async function atMinute(minute: number) {
  offsetMs = minute * MINUTE_MS
  await testDatabase().setClock(offsetMs)
}

export const POSTS = ['At the work', 'Below']

export type Answers = Readonly<Record<string, 'clear' | 'warm' | 'smoke'>>

export const round = (answers: Answers = {}, posts: readonly string[] = POSTS) =>
  roundSchema.parse({
    key: uuidv7(),
    posts: posts.map((post) => ({ post, answer: answers[post] ?? 'clear' })),
  })

export const walkRound = (viewer: Viewer, permitId: string, answers: Answers = {}) =>
  recordRound(viewer, permitId, round(answers))

export type Scan = Readonly<{ code?: string; unscanned?: string }>

/** A round of clear posts with what was scanned at each. */
export const scanRound = (
  viewer: Viewer,
  permitId: string,
  scans: Readonly<Record<string, Scan>>,
) =>
  recordRound(
    viewer,
    permitId,
    roundSchema.parse({
      key: uuidv7(),
      posts: POSTS.map((post) => ({ post, answer: 'clear', ...scans[post] })),
    }),
  )

export async function kindsOf(permitId: string): Promise<string[]> {
  const { rows } = await testDatabase().owner.query<{ kind: string }>(
    'SELECT kind FROM permit_events WHERE permit_id = $1 ORDER BY seq',
    [permitId],
  )
  return rows.map((row) => row.kind)
}
