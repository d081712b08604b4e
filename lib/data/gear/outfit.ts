import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type LeakTrend, leakTrend } from '@/lib/calc/leak-trend'
import { AppError, type Reason } from '@/lib/errors'
import { type Due, dueChecks, OUTFIT_CHECKS, type OutfitCheck } from '@/lib/permit/gear-checks'
import { db } from '../client'
import type { PartRow } from '../people-gear'

const MOST_EVENTS = 60

type HoldData = Readonly<{
  side?: 'oxygen' | 'fuel'
  scope?: 'shift' | 'interval'
  verdict?: string
  fallKpa?: number
  fallUKpa?: number
  riseKpa?: number
}>

export type OutfitEventRow = Readonly<{
  id: string
  kind: string
  at: Date
  personName: string
  reason: string | null
  data: HoldData
  verdict: 'passed' | 'failed' | 'open' | null
}>

/** Every swap has the joint soaped; what was found hanging without one was not. */
export type SoapCheck = Readonly<{ at: Date | null; unsoaped: readonly string[] }>

export type OutfitPage = Readonly<{
  id: string
  number: string
  siteId: string
  siteName: string
  zone: string
  fuelGasId: string
  crewId: string | null
  crewName: string | null
  holderId: string | null
  holderName: string | null
  rentedFrom: string | null
  oxygenPlaces: number
  fuelPlaces: number
  isInService: boolean
  reason: string | null
  /** What keeps it from going back; empty in service. */
  backReasons: readonly Reason[]
  parts: readonly PartRow[]
  cylinders: readonly Readonly<{ id: string; serial: string; side: string; place: number }>[]
  due: readonly Due<OutfitCheck>[]
  soap: SoapCheck
  trends: Readonly<Record<'oxygen' | 'fuel', LeakTrend>>
  events: readonly OutfitEventRow[]
  can: Readonly<{ inspect: boolean; write: boolean }>
}>

const CHECK_OF: Readonly<Record<string, OutfitCheck>> = {
  leak_tested: 'leak_test',
  creep_tested: 'creep_test',
  arrestor_tested: 'arrestor_test',
}

/** A shift's look that is whole counts as the longer one only where it says so. */
function checkOf({ kind, data }: OutfitEventRow): OutfitCheck[] {
  if (kind !== 'inspected') return CHECK_OF[kind] ? [CHECK_OF[kind]] : []
  return data.scope === 'shift' ? ['shift_inspection'] : ['shift_inspection', 'inspection']
}

export type Dated = OutfitEventRow & Readonly<{ day: string }>

/** A check of two sides holds from the day of the side that was tested longer ago. */
export function lastPassed(events: readonly Dated[]): Partial<Record<OutfitCheck, string>> {
  const bySide = new Map<OutfitCheck, Map<string, string>>()
  for (const event of events) {
    if (event.verdict !== 'passed') continue
    for (const check of checkOf(event)) {
      const sides = bySide.get(check) ?? new Map<string, string>()
      const side = event.data.side ?? ''
      if (!sides.has(side)) sides.set(side, event.day)
      bySide.set(check, sides)
    }
  }
  return Object.fromEntries(
    [...bySide].flatMap(([check, sides]) => {
      const both = [sides.get('oxygen') ?? sides.get(''), sides.get('fuel') ?? sides.get('')]
      const days = check.endsWith('inspection') ? [...sides.values()] : both
      const known = days.filter((day) => day !== undefined).sort()
      const day = check.endsWith('inspection') ? known.at(-1) : known[0]
      return day === undefined || known.length < days.length ? [] : [[check, day] as const]
    }),
  )
}

const DAY_MS = 86_400_000

type LeakTest = Readonly<{ at: Date; data: HoldData }>

function trendOf(tests: readonly LeakTest[], side: 'oxygen' | 'fuel'): LeakTrend {
  const points = tests.flatMap(({ at, data }) =>
    data.side === side && data.fallKpa !== undefined && data.fallUKpa !== undefined
      ? [{ day: at.getTime() / DAY_MS, fallKpa: data.fallKpa, uKpa: data.fallUKpa }]
      : [],
  )
  return leakTrend({ points })
}

const readEvents = (outfitId: string) => db.$queryRaw<Dated[]>`
  SELECT e.id, e.kind, e.at, p.name AS "personName", e.reason, e.data, kerf_check_verdict(e) AS verdict,
         to_char(kerf_site_day(e.site_id, e.at), 'YYYY-MM-DD') AS day
  FROM outfit_events e JOIN people p ON p.id = e.person_id
  WHERE e.outfit_id = ${outfitId}::uuid ORDER BY e.at DESC, e.id DESC LIMIT ${MOST_EVENTS}`

async function readSoap(outfitId: string): Promise<SoapCheck> {
  const [row] = await db.$queryRaw<{ at: Date | null; unsoaped: string[] }[]>`
    WITH soaped AS (
      SELECT max(e.at) AS at FROM outfit_events e
      WHERE e.outfit_id = ${outfitId}::uuid AND e.kind = 'soap_checked' AND kerf_check_verdict(e) = 'passed')
    SELECT greatest(soaped.at, (SELECT max(w.at) FROM swaps w WHERE w.outfit_id = ${outfitId}::uuid)) AS at,
           coalesce((SELECT array_agg(c.serial ORDER BY c.serial) FROM cylinders c JOIN LATERAL (
                       SELECT e.at, e.swap_id FROM cylinder_events e
                       WHERE e.cylinder_id = c.id AND e.kind IN ('put_on', 'found_on') ORDER BY e.seq DESC LIMIT 1) hung ON true
                     WHERE c.outfit_id = ${outfitId}::uuid AND hung.swap_id IS NULL AND hung.at > coalesce(soaped.at, '-infinity')), '{}') AS unsoaped
    FROM soaped`
  return row ?? { at: null, unsoaped: [] }
}

/** The last of each check that passed, however long ago and whatever was done since; the newest first. */
const readPassed = (outfitId: string) => db.$queryRaw<Dated[]>`
  SELECT * FROM (
    SELECT DISTINCT ON (e.kind, e.data ->> 'side', e.data ->> 'scope') e.id, e.kind, e.at, '' AS "personName", e.reason, e.data,
           'passed' AS verdict, to_char(kerf_site_day(e.site_id, e.at), 'YYYY-MM-DD') AS day
    FROM outfit_events e WHERE e.outfit_id = ${outfitId}::uuid AND kerf_check_verdict(e) = 'passed'
    ORDER BY e.kind, e.data ->> 'side', e.data ->> 'scope', e.at DESC, e.id DESC) AS last
  ORDER BY last.at DESC, last.id DESC`

const MOST_LEAK_TESTS = 60

const readLeakTests = (outfitId: string) => db.$queryRaw<LeakTest[]>`
  SELECT e.at, e.data FROM outfit_events e WHERE e.outfit_id = ${outfitId}::uuid AND e.kind = 'leak_tested'
  ORDER BY e.at DESC, e.id DESC LIMIT ${MOST_LEAK_TESTS}`

/** An outfit: what it is made of, where it is and who has it, what hangs on it, what is to be tested. */
export async function getOutfit(viewer: Viewer, outfitId: string): Promise<OutfitPage> {
  const outfit = await db.outfit.findUnique({
    where: { id: outfitId },
    select: {
      id: true,
      number: true,
      siteId: true,
      fuelGasId: true,
      crewId: true,
      crew: { select: { name: true } },
      holderId: true,
      holder: { select: { name: true } },
      rentedFrom: true,
      oxygenPlaces: true,
      fuelPlaces: true,
      state: true,
      stateReason: true,
      parts: { where: { removedAt: null }, orderBy: { id: 'asc' } },
      cylinders: {
        orderBy: [{ side: 'desc' }, { place: 'asc' }],
        select: { id: true, serial: true, side: true, place: true },
      },
    },
  })
  if (!outfit) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:read', outfit.siteId)
  const [events, passed, leakTests, soap, [place], [back]] = await Promise.all([
    readEvents(outfitId),
    readPassed(outfitId),
    readLeakTests(outfitId),
    readSoap(outfitId),
    db.$queryRaw<{ name: string; zone: string; today: string }[]>`
      SELECT name, zone, to_char(kerf_site_day(id, kerf_now()), 'YYYY-MM-DD') AS today
      FROM sites WHERE id = ${outfit.siteId}::uuid`,
    db.$queryRaw<{ reasons: Reason[] }[]>`
      SELECT kerf_outfit_back_reasons(o) AS reasons FROM outfits o WHERE o.id = ${outfitId}::uuid`,
  ])
  const { crew, holder, state, stateReason, parts, cylinders, ...rest } = outfit
  const isInService = state === 'in_service'
  return {
    ...rest,
    siteName: place?.name ?? '',
    zone: place?.zone ?? 'UTC',
    crewName: crew?.name ?? null,
    holderName: holder?.name ?? null,
    isInService,
    reason: stateReason,
    backReasons: isInService ? [] : (back?.reasons ?? []),
    parts,
    cylinders: cylinders.map((one) => ({ ...one, side: one.side ?? '', place: one.place ?? 0 })),
    due: dueChecks(OUTFIT_CHECKS, { today: place?.today ?? '', last: lastPassed(passed) }),
    soap,
    trends: { oxygen: trendOf(leakTests, 'oxygen'), fuel: trendOf(leakTests, 'fuel') },
    events,
    can: {
      inspect: can(viewer, 'outfit:inspect', outfit.siteId),
      write: can(viewer, 'outfit:write', outfit.siteId),
    },
  }
}
