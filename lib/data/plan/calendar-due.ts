import 'server-only'
import {
  dueChecks,
  EXTINGUISHER_CHECKS,
  type ExtinguisherCheckKind,
  OUTFIT_CHECKS,
  type OutfitCheck,
} from '@/lib/permit/gear-checks'
import { db } from '../client'
import { type Dated, lastPassed } from '../gear/outfit'

const MOST_ROWS = 4000
/** What is made each shift stands on the shift's own list, not in a calendar. */
const IN_CALENDAR = OUTFIT_CHECKS.filter((check) => check !== 'shift_inspection')

export type DueDay = Readonly<{
  id: string
  day: string
  siteName: string
  what: string
  check: OutfitCheck | ExtinguisherCheckKind
}>

type EventRow = Dated & Readonly<{ outfit_id: string; number: string; site_name: string }>

/** The next inspection, leak, creep and arrestor test of each outfit in service that had one before. */
export async function outfitDue(siteIds: readonly string[]): Promise<DueDay[]> {
  const rows = await db.$queryRaw<EventRow[]>`
    SELECT * FROM (
      SELECT DISTINCT ON (e.outfit_id, e.kind, e.data ->> 'side', e.data ->> 'scope') e.outfit_id, o.number, s.short_name AS site_name,
             e.id, e.kind, e.at, '' AS "personName", e.reason, e.data,
             kerf_check_verdict(e) AS verdict, to_char(kerf_site_day(e.site_id, e.at), 'YYYY-MM-DD') AS day
      FROM outfits o JOIN sites s ON s.id = o.site_id JOIN outfit_events e ON e.outfit_id = o.id
      WHERE o.site_id = ANY(${siteIds}::uuid[]) AND o.state = 'in_service' AND kerf_check_verdict(e) = 'passed'
        AND e.at > kerf_now() - interval '400 days'
      ORDER BY e.outfit_id, e.kind, e.data ->> 'side', e.data ->> 'scope', e.at DESC, e.id DESC) AS last
    ORDER BY last.at DESC, last.id DESC LIMIT ${MOST_ROWS}`
  const outfits = new Map<string, EventRow[]>()
  for (const row of rows) outfits.set(row.outfit_id, [...(outfits.get(row.outfit_id) ?? []), row])
  return [...outfits].flatMap(([outfitId, events]) =>
    dueChecks(IN_CALENDAR, { today: '1970-01-01', last: lastPassed(events) }).flatMap(
      ({ check, dueOn }) =>
        dueOn === null
          ? []
          : [
              {
                id: `${outfitId}-${check}`,
                day: dueOn,
                siteName: events[0]?.site_name ?? '',
                what: events[0]?.number ?? '',
                check,
              },
            ],
    ),
  )
}

/** The next monthly look and yearly service of each extinguisher that had one before. */
export async function extinguisherDue(siteIds: readonly string[]): Promise<DueDay[]> {
  const rows = await db.$queryRaw<
    {
      id: string
      number: string
      site_name: string
      monthly: string | null
      annual: string | null
    }[]
  >`
    SELECT x.id, x.number, s.short_name AS site_name,
           to_char(kerf_site_day(x.site_id, max(c.at)), 'YYYY-MM-DD') AS monthly,
           to_char(kerf_site_day(x.site_id, max(c.at) FILTER (WHERE c.kind = 'annual')), 'YYYY-MM-DD') AS annual
    FROM extinguishers x JOIN sites s ON s.id = x.site_id JOIN extinguisher_checks c ON c.extinguisher_id = x.id AND c.is_good
    WHERE x.site_id = ANY(${siteIds}::uuid[]) AND x.removed_at IS NULL
    GROUP BY x.id, s.short_name ORDER BY x.number LIMIT 300`
  return rows.flatMap(({ id, number, site_name, monthly, annual }) =>
    dueChecks(EXTINGUISHER_CHECKS, {
      today: '1970-01-01',
      last: { ...(monthly ? { monthly } : {}), ...(annual ? { annual } : {}) },
    }).flatMap(({ check, dueOn }) =>
      dueOn === null
        ? []
        : [{ id: `${id}-${check}`, day: dueOn, siteName: site_name, what: number, check }],
    ),
  )
}
