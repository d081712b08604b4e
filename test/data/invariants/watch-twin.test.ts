import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { WatchInput } from '@/lib/permit/types'
import { watchProgress } from '@/lib/permit/watch'
import { testDatabase } from '../../setup/database'

const database = testDatabase()
const SECOND_MS = 1000
const START_MS = Date.parse('2026-11-01T05:30:00Z') // the night New York's clocks go back

interface SqlProgress {
  anchor_ms: number
  credit_ms: number
  restarts: number
  added_ms: number
  done_ms: number | null
}

async function inSql(input: WatchInput): Promise<SqlProgress> {
  const spans = input.presence
    .map(
      ({ from, to }) =>
        [
          from,
          new Date(Math.min(to?.getTime() ?? input.now.getTime(), input.now.getTime())),
        ] as const,
    )
    .filter(([from, to]) => from < to)
    .map(([from, to]) => `[${from.toISOString()},${to.toISOString()})`)
  const { rows } = await database.runtime.query<SqlProgress>(
    `SELECT kerf_ms(anchor_at)::float AS anchor_ms, credit_ms::float, restarts, added_ms::float, kerf_ms(done_at)::float AS done_ms
     FROM kerf_watch_progress_of($1, $2, $3, (SELECT coalesce(range_agg(s), '{}') FROM unnest($4::tstzrange[]) AS s), $5, $6)`,
    [input.torchOutAt, input.watchMin, input.roundIntervalMin, spans, input.roundsAt, input.now],
  )
  const [row] = rows
  if (!row) throw new Error('no answer')
  return row
}

function inTypeScript(input: WatchInput): SqlProgress {
  const progress = watchProgress(input)
  return {
    anchor_ms: progress.anchorAt.getTime(),
    credit_ms: progress.creditMs,
    restarts: progress.restarts,
    added_ms: progress.addedMs,
    done_ms: progress.doneAt?.getTime() ?? null,
  }
}

const at = (seconds: number) => new Date(START_MS + seconds * SECOND_MS)

const watch = fc
  .record({
    watchMin: fc.constantFrom(0, 30, 60, 120),
    roundIntervalMin: fc.constantFrom(5, 10, 30),
    nowSeconds: fc.integer({ min: 0, max: 10_000 }),
    /** Gaps between rounds, mostly near the interval, in parts of it. */
    gaps: fc.array(
      fc.oneof(
        fc.double({ min: 0.7, max: 1.3, noNaN: true }),
        fc.double({ min: 0, max: 2.6, noNaN: true }),
      ),
      { maxLength: 16 },
    ),
    away: fc.array(fc.tuple(fc.integer({ min: 0, max: 9_000 }), fc.integer({ min: 1, max: 900 })), {
      maxLength: 3,
    }),
    leavesOpen: fc.boolean(),
  })
  .map(({ watchMin, roundIntervalMin, nowSeconds, gaps, away, leavesOpen }): WatchInput => {
    const stepSeconds = gaps.map((gap) => Math.round(gap * roundIntervalMin * 60))
    const roundsAt = stepSeconds.map((_, index) =>
      stepSeconds.slice(0, index + 1).reduce((sum, step) => sum + step, 0),
    )
    const cuts = away.toSorted((a, b) => a[0] - b[0])
    const starts = [-600, ...cuts.map(([from, length]) => from + length)]
    const ends = [...cuts.map(([from]) => from), leavesOpen ? null : 9_900]
    return {
      torchOutAt: at(0),
      watchMin,
      roundIntervalMin,
      presence: starts.map((from, index) => ({
        from: at(from),
        to: ends[index] === null ? null : at(Math.max(from, ends[index] ?? from)),
      })),
      roundsAt: roundsAt.map(at),
      now: at(nowSeconds),
    }
  })

describe('the database counts a watch as lib/permit does', () => {
  test('in any course of presence and rounds', async () => {
    await fc.assert(
      fc.asyncProperty(watch, async (input) => {
        expect(await inSql(input)).toEqual(inTypeScript(input))
      }),
      { numRuns: 300 },
    )
  })

  test('including watches that were kept to their end', async () => {
    const kept: WatchInput = {
      torchOutAt: at(0),
      watchMin: 60,
      roundIntervalMin: 10,
      presence: [{ from: at(0), to: null }],
      roundsAt: [600, 1210, 1800, 2400, 3000, 3590, 4900].map(at),
      now: at(6000),
    }
    const answer = await inSql(kept)
    expect(answer.done_ms).toBe(START_MS + 3_610_000)
    expect(answer).toEqual(inTypeScript(kept))
  })
})
