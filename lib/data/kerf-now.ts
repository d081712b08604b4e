/**
 * The body of the only clock, as the first migration creates it. The readiness check compares with
 * it; the seed and the tests put it back after they, as owner, moved time.
 */
export const SHIPPED_CLOCK_BODY = "SELECT date_trunc('milliseconds', clock_timestamp())"

const clock = (body: string) =>
  `CREATE OR REPLACE FUNCTION public.kerf_now() RETURNS timestamptz LANGUAGE sql VOLATILE AS $$${body}$$`

/** As owner: time as it is shipped. */
export const RESTORE_CLOCK_SQL = clock(SHIPPED_CLOCK_BODY)

/**
 * As owner, first in a transaction that ends with RESTORE_CLOCK_SQL: history is written through the
 * triggers at the time that `SELECT set_config('kerf.seed_now', '2026-03-02T07:10:00Z', true)` says.
 * Other sessions never see this body, since the transaction puts the shipped one back before it commits.
 */
export const SEEDING_CLOCK_SQL = clock("SELECT current_setting('kerf.seed_now')::timestamptz")

/** As owner, in a test's own database: the clock runs on, moved by so much. */
export function movedClockSql(offsetMs: number): string {
  if (!Number.isSafeInteger(offsetMs)) throw new RangeError('offsetMs is not a whole number')
  return clock(
    `SELECT date_trunc('milliseconds', clock_timestamp()) + interval '${offsetMs} milliseconds'`,
  )
}
