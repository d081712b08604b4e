import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { DUTIES, type Duty, type DutyThatDay, dutyThatDay } from '@/lib/permit/people-today'
import { db } from './client'

type Row = Readonly<{
  id: string
  name: string
  firm: string | null
  roles: string[]
  qualified: string[]
  shut_out: boolean
  has_pin: boolean
  has_begun: boolean
  assignment_id: string | null
  assigned_elsewhere: boolean
  busy_elsewhere: boolean
}>

export type OnDuty = Readonly<{ id: string; name: string; firm: string | null } & DutyThatDay>

export type VisitorRow = Readonly<{
  id: string
  name: string
  firm: string | null
  purpose: string
  hostName: string
  toldAt: Date
  leftAt: Date | null
}>

export type Assigned = Readonly<{ id: string; name: string; firm: string | null }>

export type PeopleToday = Readonly<{
  day: string
  /** Everybody of that duty's role, who may first. */
  duties: Readonly<Record<Duty, readonly OnDuty[]>>
  assigned: readonly Assigned[]
  /** Days after this one to which somebody is put, in order. */
  coming: readonly Readonly<{ day: string; assigned: readonly Assigned[] }>[]
  visitors: readonly VisitorRow[]
  people: readonly Readonly<{ id: string; name: string }>[]
  crews: readonly Readonly<{ id: string; name: string }>[]
  mayAssign: boolean
}>

const COMING_DAYS = 31

const readComing = (siteId: string) => db.$queryRaw<(Assigned & { day: string })[]>`
  SELECT a.id, p.name, p.firm, to_char(a.day, 'YYYY-MM-DD') AS day
  FROM assignments a JOIN people p ON p.id = a.person_id
  WHERE a.site_id = ${siteId}::uuid AND a.cancelled_at IS NULL
    AND a.day > kerf_site_day(${siteId}::uuid, kerf_now()) AND a.day <= kerf_site_day(${siteId}::uuid, kerf_now()) + ${COMING_DAYS}::int
  ORDER BY a.day, p.name, p.id`

function byDay(rows: readonly (Assigned & { day: string })[]): PeopleToday['coming'] {
  const days = [...new Set(rows.map((row) => row.day))]
  return days.map((day) => ({
    day,
    assigned: rows
      .filter((row) => row.day === day)
      .map(({ id, name, firm }) => ({ id, name, firm })),
  }))
}

const readRows = (siteId: string) => db.$queryRaw<(Row & { day: string })[]>`
  WITH here AS (SELECT kerf_site_day(${siteId}::uuid, kerf_now()) AS day)
  SELECT to_char(here.day, 'YYYY-MM-DD') AS day, p.id, p.name, p.firm, array_agg(DISTINCT g.role) AS roles,
    coalesce((SELECT array_agg(DISTINCT q.kind) FROM qualifications q
              WHERE q.person_id = p.id AND here.day BETWEEN q.valid_from AND q.valid_until), '{}') AS qualified,
    p.disabled_at IS NOT NULL AS shut_out, p.pin_hash IS NOT NULL AS has_pin, p.password_once_until IS NULL AS has_begun,
    (SELECT a.id FROM assignments a WHERE a.person_id = p.id AND a.site_id = ${siteId}::uuid AND a.day = here.day AND a.cancelled_at IS NULL) AS assignment_id,
    EXISTS (SELECT 1 FROM assignments a WHERE a.person_id = p.id AND a.site_id <> ${siteId}::uuid AND a.day = here.day AND a.cancelled_at IS NULL) AS assigned_elsewhere,
    EXISTS (SELECT 1 FROM stints s WHERE s.person_id = p.id AND s.to_at IS NULL AND s.site_id <> ${siteId}::uuid) AS busy_elsewhere
  FROM here, people p JOIN grants g ON g.person_id = p.id AND g.site_id = ${siteId}::uuid AND g.revoked_at IS NULL
  GROUP BY here.day, p.id ORDER BY p.name, p.id`

function onDuty(rows: readonly Row[], duty: Duty): OnDuty[] {
  const areAssigned = rows.some((row) => row.assignment_id !== null)
  return rows
    .flatMap(({ id, name, firm, ...row }) => {
      const person = {
        roles: row.roles,
        qualifiedFor: row.qualified,
        isShutOut: row.shut_out,
        hasPin: row.has_pin,
        hasBegun: row.has_begun,
        isAssignedHere: row.assignment_id !== null,
        isAssignedElsewhere: row.assigned_elsewhere,
        isBusyElsewhere: row.busy_elsewhere,
      }
      const answer = dutyThatDay(person, duty, areAssigned)
      return answer ? [{ id, name, firm, ...answer }] : []
    })
    .toSorted((a, b) => Number(b.may) - Number(a.may))
}

/** Who may operate, watch and authorize at a site on its own day, who is assigned to it, who visits it. */
export async function getPeopleToday(viewer: Viewer, siteId: string): Promise<PeopleToday> {
  assertCan(viewer, 'people:read', siteId)
  const [rows, coming, visitors, crews, [today]] = await Promise.all([
    readRows(siteId),
    readComing(siteId),
    db.$queryRaw<VisitorRow[]>`
      SELECT v.id, v.name, v.firm, v.purpose, h.name AS "hostName", v.told_at AS "toldAt", v.left_at AS "leftAt"
      FROM visitors v JOIN people h ON h.id = v.host_id
      WHERE v.site_id = ${siteId}::uuid AND (v.left_at IS NULL
        OR kerf_site_day(v.site_id, v.left_at) = kerf_site_day(v.site_id, kerf_now()))
      ORDER BY v.told_at DESC, v.id LIMIT 100`,
    db.crew.findMany({
      where: { siteId },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    db.$queryRaw<{ day: string }[]>`
      SELECT to_char(kerf_site_day(${siteId}::uuid, kerf_now()), 'YYYY-MM-DD') AS day`,
  ])
  const inside = rows.filter((row) => !row.shut_out)
  const [operate, watch, authorize] = DUTIES.map((duty) => onDuty(rows, duty))
  return {
    day: today?.day ?? '',
    duties: { operate: operate ?? [], watch: watch ?? [], authorize: authorize ?? [] },
    assigned: rows.flatMap(({ assignment_id: id, name, firm }) => (id ? [{ id, name, firm }] : [])),
    coming: byDay(coming),
    visitors,
    people: inside.map(({ id, name }) => ({ id, name })),
    crews,
    mayAssign: can(viewer, 'people:assign', siteId),
  }
}
