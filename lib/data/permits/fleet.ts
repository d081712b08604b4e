import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { PermitState } from '@/lib/permit/types'
import { db } from '../client'
import { type PermitListRow, readDuties, watchOf } from './list'

/** The most permits that the sheet of all sites shows. */
const MOST_RUNNING = 120
const MOST_ENDED = 30
const JUST_ENDED_HOURS = 10

interface FleetRow {
  id: string
  site_id: string
  number: string
  state: PermitState
  state_at: Date
  what: string
  area: string
  operator: string
  watcher: string | null
  planned_from: Date
  planned_until: Date
  issued_at: Date | null
  valid_until: Date | null
  last_cut_by: Date | null
  torch_out_at: Date | null
  stopped_at: Date | null
  closed_at: Date | null
  watch_minutes: number | null
  round_interval_min: number | null
  now: Date
}

/** In one statement, what burns or is owed first: those must not fall off the end of a long list. */
function readPermits(siteIds: readonly string[]): Promise<FleetRow[]> {
  return db.$queryRaw<FleetRow[]>`
    WITH shown AS (
      (SELECT * FROM permits WHERE site_id = ANY(${siteIds}::uuid[])
         AND state IN ('preparing', 'cleared', 'open', 'held', 'watch')
       ORDER BY (state IN ('open', 'held', 'watch')) DESC, created_at DESC, id DESC LIMIT ${MOST_RUNNING})
      UNION ALL
      (SELECT * FROM permits WHERE site_id = ANY(${siteIds}::uuid[])
         AND state = 'closed' AND state_at >= kerf_now() - make_interval(hours => ${JUST_ENDED_HOURS})
       ORDER BY state_at DESC, id DESC LIMIT ${MOST_ENDED}))
    SELECT p.id, p.site_id, j.number || '-' || p.number AS number, p.state, p.state_at, p.what,
           a.name AS area, o.name AS operator, w.name AS watcher, p.planned_from, p.planned_until,
           p.issued_at, p.valid_until, p.last_cut_by, p.torch_out_at, p.stopped_at, p.closed_at,
           p.watch_minutes, p.round_interval_min, kerf_now() AS now
    FROM shown p
    JOIN areas a ON a.id = p.area_id JOIN jobs j ON j.id = p.job_id JOIN people o ON o.id = p.operator_id
    LEFT JOIN LATERAL (
      SELECT s.person_id FROM stints s
      WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND p.state IN ('held', 'watch')
      ORDER BY s.from_at DESC LIMIT 1) stood ON true
    LEFT JOIN people w ON w.id = coalesce(stood.person_id, p.fire_watch_id)
    ORDER BY (p.state = 'closed'), p.created_at DESC, p.id DESC`
}

/** What runs, waits or has just ended at those of the sites where the viewer may read permits. */
export async function listFleetPermits(
  viewer: Viewer,
  siteIds: readonly string[],
): Promise<PermitListRow[]> {
  const rows = await readPermits(siteIds.filter((id) => can(viewer, 'permit:read', id)))
  const burning = rows.filter((row) => row.state === 'held' || row.state === 'watch')
  const duties = await readDuties(burning.map((row) => row.id))
  return rows.map((row) => ({
    id: row.id,
    siteId: row.site_id,
    number: row.number,
    state: row.state,
    stateAt: row.state_at,
    isStopped: row.stopped_at !== null,
    what: row.what,
    areaName: row.area,
    operatorName: row.operator,
    watcherName: row.watcher,
    plannedFrom: row.planned_from,
    plannedUntil: row.planned_until,
    issuedAt: row.issued_at,
    validUntil: row.valid_until,
    lastCutBy: row.last_cut_by,
    torchOutAt: row.torch_out_at,
    stoppedAt: row.stopped_at,
    closedAt: row.closed_at,
    watch: watchOf(
      {
        id: row.id,
        state: row.state,
        torchOutAt: row.torch_out_at,
        watchMinutes: row.watch_minutes,
        roundIntervalMin: row.round_interval_min,
      },
      duties,
      row.now,
    ),
  }))
}
