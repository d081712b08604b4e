import 'server-only'
import { can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { db } from './client'
import { forecastSites, type GasForecast } from './forecast'
import { HORIZON_DAYS } from './forecast-horizon'
import { listFleetPermits, type PermitListRow } from './permits/list'
import { listMySites, type SiteFrame } from './sites'

export type FleetSite = Readonly<{
  site: SiteFrame
  foremanName: string | null
  permits: readonly PermitListRow[]
  gases: readonly GasForecast[]
  designated: Readonly<{ name: string; lookedAt: Date | null }> | null
  mayOrder: boolean
}>

/** What needs someone, the most pressing first; words stand with the screen. */
export type FleetTrouble =
  | { kind: 'unsigned'; siteName: string; endedAt: Date }
  | { kind: 'nobody'; siteName: string; number: string; since: Date }
  | { kind: 'ended'; siteName: string; number: string; endedAt: Date }
  | { kind: 'short'; siteName: string; gasId: string; day: number }

export type Fleet = Readonly<{
  now: Date
  sites: readonly FleetSite[]
  troubles: readonly FleetTrouble[]
}>

const SHORT_SOON_DAYS = 8
/** Sites that one sheet shows; a company with more looks at them by name. */
const MOST_SITES = 60

function permitTrouble(siteName: string, row: PermitListRow, now: Date): FleetTrouble[] {
  const { state, validUntil, watch, number } = row
  if (state === 'watch' && watch?.isDone)
    return [{ kind: 'unsigned', siteName, endedAt: watch.endsAt }]
  if (watch?.pausedSince) return [{ kind: 'nobody', siteName, number, since: watch.pausedSince }]
  if (state === 'open' && validUntil && validUntil <= now)
    return [{ kind: 'ended', siteName, number, endedAt: validUntil }]
  return []
}

function gasTrouble(siteName: string, gas: GasForecast): FleetTrouble[] {
  const day = gas.forecast.daysUntilShort
  return day !== null && day <= SHORT_SOON_DAYS
    ? [{ kind: 'short', siteName, gasId: gas.gasId, day }]
    : []
}

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

/** All the viewer's sites: what burns, what is watched, how long the gas lasts; trouble first. */
export async function getFleet(viewer: Viewer): Promise<Fleet> {
  const frames = (await listMySites(viewer)).slice(0, MOST_SITES)
  const siteIds = frames.map((site) => site.id)
  const readable = new Set(sitesWhere(viewer, 'cylinder:read'))
  const [{ now, rows }, gases, foremen, designated] = await Promise.all([
    listFleetPermits(viewer),
    forecastSites(siteIds.filter((id) => readable.has(id))),
    db.grant.findMany({
      where: { siteId: { in: siteIds }, role: 'foreman', revokedAt: null },
      select: { siteId: true, person: { select: { name: true } } },
      orderBy: { grantedAt: 'asc' },
    }),
    db.area.findMany({
      where: { siteId: { in: siteIds }, areaClass: 'designated' },
      select: { siteId: true, name: true, designatedLookedAt: true },
      orderBy: { name: 'asc' },
    }),
  ])
  const sites = frames.map((site): FleetSite => {
    const area = designated.find((one) => one.siteId === site.id)
    return {
      site,
      foremanName: foremen.find((grant) => grant.siteId === site.id)?.person.name ?? null,
      permits: rows.filter((row) => row.siteId === site.id),
      gases: gases.filter((gas) => gas.siteId === site.id),
      designated: area ? { name: area.name, lookedAt: area.designatedLookedAt } : null,
      mayOrder: can(viewer, 'order:read', site.id),
    }
  })
  return {
    now,
    sites: sites.toSorted((a, b) => rank(a, now) - rank(b, now)),
    troubles: sites
      .flatMap((site) => troublesOf(site, now))
      .toSorted((a, b) => weight(a) - weight(b)),
  }
}
