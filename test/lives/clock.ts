import type pg from 'pg'

const CLOCK = 'public.kerf_test_clock'
const opened = new WeakSet<pg.Pool>()

/**
 * As owner, in a test's own database: the clock runs on from an offset that a sequence holds. A clock
 * that is moved by a new body makes every session plan all its statements anew; this one makes none,
 * and it moves for all sessions at once, open transactions included.
 */
async function openClock(owner: pg.Pool): Promise<void> {
  await owner.query(`
    CREATE SEQUENCE IF NOT EXISTS ${CLOCK} MINVALUE ${Number.MIN_SAFE_INTEGER};
    GRANT SELECT ON SEQUENCE ${CLOCK} TO PUBLIC;
    CREATE OR REPLACE FUNCTION public.kerf_now() RETURNS timestamptz LANGUAGE sql VOLATILE AS
      $$SELECT date_trunc('milliseconds', clock_timestamp()) + interval '1 millisecond' * pg_sequence_last_value('${CLOCK}'::regclass)$$`)
  opened.add(owner)
}

/** Moves `kerf_now()` by so many whole milliseconds from the real clock. */
export async function moveClock(owner: pg.Pool, offsetMs: number): Promise<void> {
  if (!opened.has(owner)) await openClock(owner)
  await owner.query('SELECT setval($1, $2)', [CLOCK, Math.trunc(offsetMs)])
}
