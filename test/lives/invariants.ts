import { permitWatch } from '@/lib/permit/after-work'
import type { Stage } from './stage'

/** What may never be true of the kept rows, whatever anybody did. Each answers with the rows that break it. */
const NEVER: Readonly<Record<string, string>> = {
  'two people-places at once': `
    SELECT a.id FROM stints a JOIN stints b ON a.person_id = b.person_id AND a.id < b.id AND a.slot <> b.slot
    WHERE a.permit_id = $1 AND tstzrange(a.from_at, a.to_at) && tstzrange(b.from_at, b.to_at)`,
  'the torch lit by somebody who watches': `
    SELECT a.id FROM stints a JOIN stints b ON a.person_id = b.person_id AND a.role = 'operator' AND b.role = 'fire_watch'
    WHERE a.permit_id = $1 AND tstzrange(a.from_at, a.to_at) && tstzrange(b.from_at, b.to_at)`,
  'an issuer who cut': `
    SELECT s.id FROM stints s JOIN permits p ON p.id = s.permit_id
    WHERE p.id = $1 AND s.role = 'operator' AND s.person_id = p.issued_by`,
  'a duty below what was frozen': `
    SELECT id FROM permits WHERE id = $1 AND issued_at IS NOT NULL AND (
      watch_minutes < (frozen #>> '{duties,watchMin}')::numeric OR final_look_minutes < (frozen #>> '{duties,finalLookMin}')::numeric)`,
  'work allowed outside "open"': `
    SELECT p.id FROM permits p WHERE p.id = $1 AND (p.state = 'open') <> EXISTS (
      SELECT 1 FROM permit_open_spans o WHERE o.permit_id = p.id AND o.to_at IS NULL)`,
  'work allowed past the end': `
    SELECT o.id FROM permit_open_spans o JOIN permits p ON p.id = o.permit_id WHERE p.id = $1 AND o.to_at > p.valid_until`,
  'a log outside the open time': `
    SELECT l.id FROM hot_work_logs l WHERE l.permit_id = $1 AND NOT EXISTS (
      SELECT 1 FROM permit_open_spans o WHERE o.permit_id = l.permit_id AND o.from_at <= l.from_at AND (o.to_at IS NULL OR o.to_at >= l.to_at))`,
  'life after being stopped for good': `
    SELECT e.id FROM permit_events e JOIN permits p ON p.id = e.permit_id
    WHERE p.id = $1 AND e.at > p.stopped_at AND e.kind IN ('issued', 'resumed', 'reopened')`,
  'events out of order': `
    SELECT e.id FROM permit_events e JOIN permit_events f ON f.permit_id = e.permit_id AND f.seq = e.seq + 1
    WHERE e.permit_id = $1 AND f.at < e.at`,
  'a gap in the numbers': `
    SELECT 1 AS id FROM permit_events WHERE permit_id = $1 HAVING count(*) <> max(seq)`,
  'a fact without its entry in the record': `
    SELECT e.id FROM permit_events e WHERE e.permit_id = $1 AND NOT EXISTS (
      SELECT 1 FROM audit_entries a WHERE a.subject_id = $1::text AND a.table_name = 'permit_events' AND a.payload::jsonb #>> '{row,id}' = e.id::text)`,
  'closed with less watched than owed': `
    SELECT p.id FROM permits p, LATERAL kerf_watch_progress(p.id, p.closed_at) AS w
    WHERE p.id = $1 AND p.state = 'closed' AND w.done_at IS NULL`,
}

const BROKEN = Object.entries(NEVER)
  .map(([name, sql]) => `SELECT '${name.replaceAll("'", "''")}' AS broken WHERE EXISTS (${sql})`)
  .join(' UNION ALL ')
  .replaceAll('$1::text', '$2')

/** Named, so that it is planned once; with the watch as the database counts it at $3. */
const ALL = {
  name: 'kerfwatch_lives_invariants',
  text: `SELECT (SELECT coalesce(array_agg(broken), '{}') FROM (${BROKEN}) AS b) AS broken,
           w.credit_ms::float AS credit, w.restarts, w.done_at AS done
         FROM (SELECT) AS one LEFT JOIN kerf_watch_progress($1, $3) AS w ON true`,
}

interface Kept {
  broken: string[]
  credit: number | null
  restarts: number | null
  done: Date | null
}

/** Names what is broken now; empty is as it must be. */
export async function broken(stage: Stage): Promise<string[]> {
  const { facts, now } = await stage.context()
  const values = [stage.permitId, stage.permitId, now]
  const { rows } = await stage.owner.query<Kept>({ ...ALL, values })
  const [kept] = rows
  if (!kept) throw new Error('the invariants were not looked at')
  return [...kept.broken, ...unlikeLib(permitWatch(facts, now), kept)]
}

/** The watch as lib/permit counts it and as the database does. */
function unlikeLib(here: ReturnType<typeof permitWatch>, there: Kept): string[] {
  const isSame =
    (here?.creditMs ?? null) === there.credit &&
    (here?.doneAt?.getTime() ?? null) === (there.done?.getTime() ?? null) &&
    (here?.restarts ?? 0) === (there.restarts ?? 0)
  if (isSame) return []
  const { credit, restarts, done } = there
  return [
    `a watch counted two ways: ${JSON.stringify({ here, there: { credit, restarts, done } })}`,
  ]
}
