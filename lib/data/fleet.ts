import 'server-only'
import { can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { FleetFilter } from '@/lib/schemas/permit'
import { db } from './client'
import { type GasOutlook, outlookOfSites } from './forecast'
import { HORIZON_DAYS } from './forecast-horizon'
import { listFleetPermits } from './permits/fleet'
import type { PermitListRow } from './permits/list'
import type { SiteFrame } from './sites'

/** Of a gas only what the sheet draws: it goes to the browser for many sites at once. */
export type FleetGas = Omit<
  GasOutlook,
  'siteId' | 'sizeId' | 'sizes' | 'plannedCylinders' | 'learned'
>

export type FleetSite = Readonly<{
  site: SiteFrame
  /** The foreman; where there is none, who keeps the yard. */
  keeperName: string | null
  permits: readonly PermitListRow[]
  gases: readonly FleetGas[]
  designated: Readonly<{ name: string; lookedAt: Date | null }> | null
  mayOrder: boolean
}>

/** What needs someone, the most pressing first; words stand with the screen. */
export type FleetTrouble =
  | { kind: 'unsigned'; siteName: string; endedAt: Date }
  | { kind: 'nobody'; siteName: string; number: string; since: Date }
  | { kind: 'ended'; siteName: string; number: string; endedAt: Date }
  | { kind: 'short'; siteName: string; gasId: string; day: number }

/** A site that is not drawn: nothing there is as pressing as at those that are. */
export type OtherSite = Readonly<{
  id: string
  name: string
  permits: number
  /** Of the gas that is out first; null past the horizon. */
  shortDay: number | null
}>

export type Fleet = Readonly<{
  now: Date
  /** Drawn in full, the most pressing first. */
  sites: readonly FleetSite[]
  others: readonly OtherSite[]
  /** Sites beyond those that one sheet looks at. */
  unseen: number
  troubles: readonly FleetTrouble[]
}>

const SHORT_SOON_DAYS = 8
/** Sites that one sheet looks at; a company with more looks at the rest by name. */
const MOST_SITES = 60
/** Sites drawn in full unless all are asked for: about a desk’s screen of them. */
const DRAWN_SITES = 8

function permitTrouble(siteName: string, row: PermitListRow, now: Date): FleetTrouble[] {
  const { state, validUntil, watch, number } = row
  if (state === 'watch' && watch?.isDone)
    return [{ kind: 'unsigned', siteName, endedAt: watch.endsAt }]
  if (watch?.pausedSince) return [{ kind: 'nobody', siteName, number, since: watch.pausedSince }]
  if (state === 'open' && validUntil && validUntil <= now)
    return [{ kind: 'ended', siteName, number, endedAt: validUntil }]
  return []
}

function gasTrouble(siteName: string, gas: FleetGas): FleetTrouble[] {
  const day = gas.forecast.daysUntilShort
  return day !== null && day <= SHORT_SOON_DAYS
    ? [{ kind: 'short', siteName, gasId: gas.gasId, day }]
    : []
}

const STATES_SHOWN: Readonly<Record<Exclude<FleetFilter, 'all' | 'overdue'>, readonly string[]>> = {
  preparing: ['preparing', 'cleared'],
  open: ['open'],
  held: ['held'],
  watch: ['watch'],
}

/** Whether a bar is drawn under this filter. */
const isShown = (row: PermitListRow, show: FleetFilter, now: Date) =>
  show === 'all' ||
  (show === 'overdue'
    ? permitTrouble('', row, now).length > 0
    : STATES_SHOWN[show].includes(row.state))

/** Overdue first; the rest as they came. */
const overdueFirst = (rows: readonly PermitListRow[], now: Date) =>
  rows.toSorted((a, b) => permitTrouble('', b, now).length - permitTrouble('', a, now).length)

const weight = (trouble: FleetTrouble) =>
  trouble.kind === 'short' ? 10 + trouble.day : { unsigned: 1, nobody: 0, ended: 2 }[trouble.kind]

const troublesOf = ({ site, permits, gases }: FleetSite, now: Date) =>
  [
    ...permits.flatMap((row) => permitTrouble(site.shortName, row, now)),
    ...gases.flatMap((gas) => gasTrouble(site.shortName, gas)),
  ].sort((a, b) => weight(a) - weight(b))

const rank = (site: FleetSite, now: Date) => {
  const first = troublesOf(site, now)[0]
  return first ? weight(first) : site.permits.length > 0 ? HORIZON_DAYS + 50 : HORIZON_DAYS + 100
}

const toFleetGas = ({
  siteId,
  sizeId,
  sizes,
  plannedCylinders,
  learned,
  ...drawn
}: GasOutlook): FleetGas => drawn

interface FrameRow {
  id: string
  name: string
  short_name: string
  kind: string
  zone: string
  keeper: string | null
  designated: string | null
  looked_at: Date | null
  now: Date
}

/** The sites, who keeps each, and its designated area, in one statement. */
function readFrames(siteIds: readonly string[]): Promise<FrameRow[]> {
  return db.$queryRaw<FrameRow[]>`
    SELECT s.id, s.name, s.short_name, s.kind, s.zone, k.name AS keeper,
           d.name AS designated, d.designated_looked_at AS looked_at, kerf_now() AS now
    FROM sites s
    LEFT JOIN LATERAL (
      SELECT p.name FROM grants g JOIN people p ON p.id = g.person_id
      WHERE g.site_id = s.id AND g.role IN ('foreman', 'yard_hand') AND g.revoked_at IS NULL AND p.disabled_at IS NULL
      ORDER BY (g.role = 'foreman') DESC, g.granted_at LIMIT 1) k ON true
    LEFT JOIN LATERAL (
      SELECT a.name, a.designated_looked_at FROM areas a
      WHERE a.site_id = s.id AND a.area_class = 'designated' ORDER BY a.name LIMIT 1) d ON true
    WHERE s.id = ANY(${siteIds}::uuid[])
    ORDER BY s.name`
}

function toOther({ site, permits, gases }: FleetSite): OtherSite {
  const days = gases.map((gas) => gas.forecast.daysUntilShort).filter((day) => day !== null)
  return {
    id: site.id,
    name: site.name,
    permits: permits.filter((row) => row.state !== 'closed').length,
    shortDay: days.length > 0 ? Math.min(...days) : null,
  }
}

/** All the viewer's sites: what burns, what is watched, how long the gas lasts; trouble first. */
export async function getFleet(
  viewer: Viewer,
  { isAllDrawn = false, show = 'all' }: Readonly<{ isAllDrawn?: boolean; show?: FleetFilter }> = {},
): Promise<Fleet> {
  const granted = sitesWhere(viewer, 'site:read')
  const siteIds = granted.slice(0, MOST_SITES)
  const [frames, rows, gases] = await Promise.all([
    readFrames(siteIds),
    listFleetPermits(viewer, siteIds),
    outlookOfSites(siteIds.filter((id) => can(viewer, 'cylinder:read', id))),
  ])
  const now = frames[0]?.now
  if (!now) return { now: new Date(0), sites: [], others: [], unseen: 0, troubles: [] }
  const sites = frames.map(
    (frame): FleetSite => ({
      site: {
        id: frame.id,
        name: frame.name,
        shortName: frame.short_name,
        kind: frame.kind,
        zone: frame.zone,
      },
      keeperName: frame.keeper,
      permits: overdueFirst(
        rows.filter((row) => row.siteId === frame.id),
        now,
      ),
      gases: gases.filter((gas) => gas.siteId === frame.id).map(toFleetGas),
      designated: frame.designated ? { name: frame.designated, lookedAt: frame.looked_at } : null,
      mayOrder: can(viewer, 'order:read', frame.id),
    }),
  )
  const drawable = sites
    .map((one) => ({ ...one, permits: one.permits.filter((row) => isShown(row, show, now)) }))
    .filter((one) => show === 'all' || one.permits.length > 0)
  const ranked = drawable.toSorted((a, b) => rank(a, now) - rank(b, now))
  const drawn = isAllDrawn ? ranked.length : DRAWN_SITES
  return {
    now,
    sites: ranked.slice(0, drawn),
    others: ranked.slice(drawn).map(toOther),
    unseen: granted.length - siteIds.length,
    troubles: sites
      .flatMap((site) => troublesOf(site, now))
      .toSorted((a, b) => weight(a) - weight(b)),
  }
}
