import 'server-only'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { Interval90 } from '@/lib/calc/source'
import { quadrature } from '@/lib/calc/stats'
import { type TimeToChangeInput, timeToChange, timeToChangeAt } from '@/lib/calc/time-to-change'
import { AppError } from '@/lib/errors'
import { db } from './client'
import { deliveredUKg, reserveOf } from './contents'
import { type Amount90, amount90 } from './cylinders-shown'
import { type Norms, siteNorms } from './estimate-norms'
import { readSiteSupply, type SiteSupply } from './estimate-supply'
import { type CutListEstimate, type CutListRow, estimateList, findCutLists } from './estimates'
import { readOutfits, type StoredCylinder, type StoredOutfit } from './outfits-rows'

type Side = 'oxygen' | 'fuel'

export type OnOutfit = Readonly<{
  id: string
  serial: string
  gasId: string
  place: number
  sizeName: string
  nominalKg: number
  lastReadingAt: Date | null
}>

/** When to change, while the cuts left burn evenly. `teeth` are chances with their moments. */
export type ChangeBy = Readonly<{
  low: Date
  middle: Date
  high: Date | null
  teeth: readonly { chance: number; at: Date }[]
  /** When the cuts left would be done. */
  neededUntil: Date
  shortKg: Interval90
}>

export type OutfitSide = Readonly<{
  side: Side
  /** The gas that this side's hose takes. */
  gasId: string
  places: number
  cylinders: readonly OnOutfit[]
  /** Of all on this side, less what the cuts logged since their readings took. */
  contents: Amount90 | null
  burntSinceReadingKg: number
  reserveKg: number
  changeAtGaugeKpa: number | null
  change: ChangeBy | null
  /** Of the fuel, against what one cylinder may give, times those on this side. */
  draw: { m3PerS: number; allowedM3PerS: number } | null
}>

export type OutfitContents = Readonly<{
  outfitId: string
  number: string
  cutListId: string | null
  oxygen: OutfitSide
  fuel: OutfitSide
}>

type Logged = Readonly<{ outfit_id: string; side: Side; cut_id: string; pieces: number }>
type Since = Readonly<{ outfitId: string; side: Side; since: Date | null }>

/** Logs since a cylinder's last reading that count: a shift has a dozen. */
const MOST_LOGS = 500

/** Pieces cut with each outfit since a moment of each side; none when nothing is on that side. */
async function readLogged(wanted: readonly Since[]): Promise<Logged[]> {
  const asked = wanted.flatMap(({ outfitId, side, since }) =>
    since ? [{ outfit_id: outfitId, side, since: since.toISOString() }] : [],
  )
  if (asked.length === 0) return []
  return db.$queryRaw<Logged[]>`
    SELECT w.outfit_id, w.side, l.cut_id, sum(l.pieces)::int AS pieces
    FROM jsonb_to_recordset(${JSON.stringify(asked)}::jsonb) AS w(outfit_id uuid, side text, since timestamptz)
    JOIN LATERAL (
      SELECT cut_id, pieces FROM hot_work_logs
      WHERE outfit_id = w.outfit_id AND to_at > w.since ORDER BY to_at DESC LIMIT ${MOST_LOGS}) l ON l.cut_id IS NOT NULL
    GROUP BY w.outfit_id, w.side, l.cut_id`
}

/** What the pieces cut since a reading took, as an estimate of a list that holds just them. */
function burntBy(
  list: CutListRow,
  logged: readonly Logged[],
  { supply, norms }: Readonly<{ supply: SiteSupply; norms: Norms }>,
): CutListEstimate['result'] {
  const pieces = new Map(logged.map((row) => [row.cut_id, row.pieces]))
  const cuts = list.cuts
    .filter((cut) => (pieces.get(cut.id) ?? 0) > 0)
    .map((cut) => ({ ...cut, count: pieces.get(cut.id) ?? 0, doneCount: 0 }))
  return cuts.length === 0 ? null : estimateList({ ...list, cuts }, supply, norms).result
}

const TEETH = [0.275, 0.5, 0.725, 0.95] as const

function changeBy(input: TimeToChangeInput, nowMs: number): ChangeBy {
  const times = timeToChange(input)
  const at = (seconds: number) => new Date(nowMs + seconds * 1000)
  return {
    low: at(times.low90S),
    middle: at(times.middleS),
    high: times.high90S === null ? null : at(times.high90S),
    teeth: TEETH.flatMap((chance) => {
      const seconds = timeToChangeAt(input, chance)
      return seconds === null ? [] : [{ chance, at: at(seconds) }]
    }),
    neededUntil: at(input.needS),
    shortKg: times.shortKg,
  }
}

/** From when the cuts logged count against a side: the older of its cylinders' last reading or putting on. */
function countedFrom(side: Side, cylinders: readonly StoredCylinder[]): Date | null {
  const starts = cylinders
    .filter((cylinder) => cylinder.side === side)
    .map((cylinder) =>
      Math.max(cylinder.putOnAt?.getTime() ?? 0, cylinder.lastReadingAt?.getTime() ?? 0),
    )
  return starts.length === 0 ? null : new Date(Math.min(...starts))
}

type Estimates = Readonly<{
  left: CutListEstimate | null
  burnt: Record<Side, CutListEstimate['result']>
}>

function held(
  cylinders: readonly StoredCylinder[],
  burnt: { mean: number; standardUncertainty: number } | undefined,
) {
  if (cylinders.length === 0 || cylinders.some((cylinder) => cylinder.contentsKg === null))
    return null
  const readKg = cylinders.reduce((sum, cylinder) => sum + (cylinder.contentsKg ?? 0), 0)
  const uncertainties = cylinders.map(
    (cylinder) => cylinder.contentsUKg ?? deliveredUKg(cylinder.size),
  )
  return {
    kg: Math.max(0, readKg - (burnt?.mean ?? 0)),
    uKg: quadrature([...uncertainties, burnt?.standardUncertainty ?? 0]),
  }
}

function sideOf(side: Side, outfit: StoredOutfit, estimates: Estimates, nowMs: number): OutfitSide {
  const cylinders = outfit.cylinders.filter((cylinder) => cylinder.side === side)
  const result = estimates.left?.result
  const need = side === 'oxygen' ? result?.oxygen : result?.fuelGas
  const burnt = side === 'oxygen' ? estimates.burnt.oxygen?.oxygen : estimates.burnt.fuel?.fuelGas
  const now = held(cylinders, burnt)
  const reserves = cylinders.map((cylinder) => reserveOf(cylinder.size))
  const reserveKg = reserves.reduce((sum, reserve) => sum + reserve.reserveKg, 0)
  return {
    side,
    gasId: side === 'oxygen' ? 'oxygen' : outfit.fuelGasId,
    places: side === 'oxygen' ? outfit.oxygenPlaces : outfit.fuelPlaces,
    cylinders: cylinders.map(({ id, serial, gasId, place, size, lastReadingAt }) => ({
      id,
      serial,
      gasId,
      place: place ?? 1,
      sizeName: size.name,
      nominalKg: size.nominalKg,
      lastReadingAt,
    })),
    contents: now ? amount90(now.kg, now.uKg) : null,
    burntSinceReadingKg: burnt?.mean ?? 0,
    reserveKg,
    changeAtGaugeKpa: reserves[0]?.changeAtGaugeKpa ?? null,
    change:
      now && need && need.mean > 0 && result && result.time.elapsedS > 0
        ? changeBy(
            {
              contentsKg: now.kg,
              contentsStandardUncertaintyKg: now.uKg,
              reserveKg,
              needKg: need.mean,
              needStandardUncertaintyKg: need.standardUncertainty,
              needS: result.time.elapsedS,
            },
            nowMs,
          )
        : null,
    draw: side === 'fuel' ? drawOf(result ?? null, cylinders.length) : null,
  }
}

/** The greatest draw of the cuts left, by the rich end of the table, beside what this side may give. */
function drawOf(result: CutListEstimate['result'], cylinders: number): OutfitSide['draw'] {
  if (!result?.withdrawal?.ok || cylinders === 0) return null
  const draws = result.cuts.flatMap((cut) =>
    cut.segments.map((segment) => segment.ranges.fuelM3PerS[1]),
  )
  return {
    m3PerS: Math.max(0, ...draws),
    allowedM3PerS: result.withdrawal.allowedM3PerSPerCylinder * cylinders,
  }
}

const SIDES: readonly Side[] = ['oxygen', 'fuel']

/** Both sides of each outfit at a moment, in a fixed number of queries however many outfits there are. */
export async function outfitsContents(
  viewer: Viewer,
  siteId: string,
  outfitIds: readonly string[],
  at: Date,
): Promise<OutfitContents[]> {
  assertCan(viewer, 'cylinder:read', siteId)
  const outfits = await readOutfits(siteId, outfitIds)
  const listIds = outfits.flatMap((outfit) => outfit.cutListId ?? [])
  const [supply, normsOf, lists, logged] = await Promise.all([
    readSiteSupply(siteId),
    siteNorms(db, siteId),
    findCutLists(db, listIds),
    readLogged(
      outfits.flatMap(({ id, cylinders }) =>
        SIDES.map((side) => ({ outfitId: id, side, since: countedFrom(side, cylinders) })),
      ),
    ),
  ])
  return outfits.map((outfit) => {
    const { cutListId } = outfit
    const list = lists.find((one) => one.id === cutListId) ?? null
    const norms = normsOf(list?.crewId ?? null, list?.fuel ?? '')
    const since = (side: Side) =>
      logged.filter((row) => row.outfit_id === outfit.id && row.side === side)
    const estimates = {
      left: list ? estimateList(list, supply, norms) : null,
      burnt: {
        oxygen: list ? burntBy(list, since('oxygen'), { supply, norms }) : null,
        fuel: list ? burntBy(list, since('fuel'), { supply, norms }) : null,
      },
    }
    return {
      outfitId: outfit.id,
      number: outfit.number,
      cutListId,
      oxygen: sideOf('oxygen', outfit, estimates, at.getTime()),
      fuel: sideOf('fuel', outfit, estimates, at.getTime()),
    }
  })
}

/** The same for one outfit, wherever it is. */
export async function outfitContents(
  viewer: Viewer,
  outfitId: string,
  at: Date,
): Promise<OutfitContents> {
  const outfit = await db.outfit.findUnique({ where: { id: outfitId }, select: { siteId: true } })
  if (!outfit) throw new AppError('NOT_FOUND')
  const [contents] = await outfitsContents(viewer, outfit.siteId, [outfitId], at)
  if (!contents) throw new AppError('NOT_FOUND')
  return contents
}
