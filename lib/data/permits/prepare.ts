import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import { instantOfLocal, localDay, nextDay } from '@/lib/format/local-time'
import type { PreparePermitInput } from '@/lib/schemas/permit-prepare'
import { db } from '../client'
import { once } from '../client-keys'
import { readNow } from '../cylinders'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import { readAreaFacts } from './frozen'
import { findSiteHands, listSiteHands, type SiteHand } from './people'

export type PrepareChoices = Readonly<{
  now: Date
  today: string
  job: Readonly<{ id: string; number: string; title: string }>
  site: Readonly<{
    id: string
    name: string
    zone: string
    shiftEnds: string
    loneOperator: boolean
  }>
  areas: readonly Readonly<{ id: string; name: string; areaClass: string }>[]
  cutLists: readonly Readonly<{ id: string; title: string }>[]
  outfits: readonly Readonly<{
    id: string
    number: string
    isInService: boolean
    fuelGasId: string
  }>[]
  hands: readonly SiteHand[]
}>

/** What a permit for this job may name. */
export async function prepareChoices(viewer: Viewer, jobId: string): Promise<PrepareChoices> {
  const job = await db.job.findUnique({
    where: { id: jobId },
    select: {
      id: true,
      number: true,
      title: true,
      siteId: true,
      site: {
        select: { id: true, name: true, zone: true, shiftEnds: true, loneOperator: true },
      },
      cutLists: { select: { id: true, title: true }, orderBy: { id: 'asc' }, take: 20 },
    },
  })
  if (!job || !can(viewer, 'permit:read', job.siteId)) throw new AppError('NOT_FOUND')
  const now = await readNow()
  const today = localDay(now, job.site.zone)
  const [areas, outfits, hands] = await Promise.all([
    db.area.findMany({
      where: { siteId: job.siteId },
      select: { id: true, name: true, areaClass: true },
      orderBy: { name: 'asc' },
      take: 200,
    }),
    db.outfit.findMany({
      where: { siteId: job.siteId },
      select: { id: true, number: true, state: true, fuelGasId: true },
      orderBy: { number: 'asc' },
      take: 100,
    }),
    listSiteHands(job.siteId, today),
  ])
  return {
    now,
    today,
    job: { id: job.id, number: job.number, title: job.title },
    site: job.site,
    areas,
    cutLists: job.cutLists,
    outfits: outfits.map((o) => ({
      id: o.id,
      number: o.number,
      fuelGasId: o.fuelGasId,
      isInService: o.state === 'in_service',
    })),
    hands,
  }
}

/** Jobs of a site that a permit may be prepared for. */
export async function listJobsForPermit(viewer: Viewer, siteId: string) {
  if (!can(viewer, 'permit:prepare', siteId)) return []
  return db.job.findMany({
    where: { siteId, state: { in: ['planned', 'running'] } },
    select: { id: true, number: true, title: true },
    orderBy: [{ plannedStart: 'asc' }, { id: 'asc' }],
    take: 50,
  })
}

type Named = Readonly<{
  zone: string
  mayBeAlone: boolean
  area: { name: string; areaClass: string; isConfined: boolean } | null
  outfit: { number: string; state: string } | null
  hands: readonly SiteHand[]
  isOwnList: boolean
}>

async function readNamed(tx: Tx, siteId: string, input: PreparePermitInput): Promise<Named> {
  const site = await tx.site.findUniqueOrThrow({
    where: { id: siteId },
    select: { zone: true, loneOperator: true },
  })
  const area = await tx.area.findFirst({
    where: { id: input.areaId, siteId },
    select: { name: true, areaClass: true, facts: true },
  })
  const outfit = await tx.outfit.findFirst({
    where: { id: input.outfitId, siteId },
    select: { number: true, state: true },
  })
  const list = input.cutListId
    ? await tx.cutList.count({ where: { id: input.cutListId, jobId: input.jobId } })
    : 1
  const ids = [input.operatorId, input.fireWatchId]
  const hands = await findSiteHands(tx, { siteId, day: input.plannedDay, ids })
  return {
    zone: site.zone,
    mayBeAlone: site.loneOperator,
    area: area && { ...area, isConfined: readAreaFacts(area.facts).confinedSpace },
    outfit,
    hands,
    isOwnList: list > 0,
  }
}

function plannedSpan(
  { plannedDay, plannedFrom, plannedUntil, hostPermitUntil, entryPermitUntil }: PreparePermitInput,
  timeZone: string,
) {
  // What ends before it begins ends tomorrow: a night shift.
  const ending = (clock: string) =>
    instantOfLocal({
      day: clock > plannedFrom ? plannedDay : nextDay(plannedDay),
      clock,
      timeZone,
    })
  return {
    from: instantOfLocal({ day: plannedDay, clock: plannedFrom, timeZone }),
    until: ending(plannedUntil),
    hostUntil: hostPermitUntil && ending(hostPermitUntil),
    entryUntil: entryPermitUntil && ending(entryPermitUntil),
  }
}

function personReasons(
  named: Named,
  personId: string | null,
  kind: 'torch_operator' | 'fire_watch',
): Reason[] {
  if (personId === null) return []
  const hand = named.hands.find((one) => one.id === personId)
  if (!hand) return [{ code: 'PERSON_NOT_ON_SITE', params: { role: kind } }]
  return hand.qualifiedAs.includes(kind)
    ? []
    : [{ code: 'PERSON_NOT_QUALIFIED', params: { name: hand.name, role: kind } }]
}

/** Why this can't be prepared as a permit; everything at once. */
function prepareReasons(input: PreparePermitInput, named: Named): Reason[] {
  return [
    ...(input.coldAnswer === 'cold' ? [{ code: 'DO_IT_COLD' }] : []),
    ...(input.coldAnswer === 'elsewhere' ? [{ code: 'DO_IT_ELSEWHERE' }] : []),
    ...(named.area ? [] : [{ code: 'AREA_NOT_ON_SITE' }]),
    ...(named.area?.areaClass === 'not_permitted'
      ? [{ code: 'AREA_NOT_PERMITTED', params: { area: named.area.name } }]
      : []),
    ...(named.area?.areaClass === 'designated'
      ? [{ code: 'AREA_NEEDS_NO_PERMIT', params: { area: named.area.name } }]
      : []),
    ...(named.area?.isConfined && input.entryPermit === null
      ? [{ code: 'ENTRY_PERMIT_MISSING', params: { area: named.area.name } }]
      : []),
    ...(named.outfit ? [] : [{ code: 'OUTFIT_NOT_ON_SITE' }]),
    ...(named.outfit?.state === 'out_of_service'
      ? [{ code: 'OUTFIT_OUT_OF_SERVICE', params: { outfit: named.outfit.number } }]
      : []),
    ...(input.loneClient !== null && !named.mayBeAlone ? [{ code: 'LONE_NOT_ALLOWED' }] : []),
    ...(named.isOwnList ? [] : [{ code: 'LIST_OF_OTHER_JOB' }]),
    ...personReasons(named, input.operatorId, 'torch_operator'),
    ...personReasons(named, input.fireWatchId, 'fire_watch'),
  ]
}

function permitColumns(input: PreparePermitInput, span: ReturnType<typeof plannedSpan>) {
  return {
    areaId: input.areaId,
    jobId: input.jobId,
    cutListId: input.cutListId,
    outfitId: input.outfitId,
    process: input.process,
    what: input.what,
    whereWords: input.whereWords,
    coldAnswer: { answer: input.coldAnswer, why: input.coldWhy },
    hostPermit: input.hostPermit,
    entryPermit: input.entryPermit,
    loneClient: input.loneClient,
    hostPermitUntil: span.hostUntil,
    entryPermitUntil: span.entryUntil,
    isolation: {
      inside: input.inside,
      behind: input.behind,
      steps: input.isolationSteps,
      provenBy: input.isolationProvenBy,
    },
    plannedFrom: span.from,
    plannedUntil: span.until,
    operatorId: input.operatorId,
    fireWatchId: input.fireWatchId,
  }
}

/** Opens a permit for preparation, after the question whether it can be done cold or elsewhere. */
export async function preparePermit(
  viewer: Viewer,
  input: PreparePermitInput,
): Promise<{ id: string }> {
  const job = await db.job.findUnique({
    where: { id: input.jobId },
    select: { siteId: true, state: true, number: true },
  })
  if (!job) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'permit:prepare', job.siteId)
  return inTransaction(viewer, 'permit:prepare', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:prepare', input }, async () => {
      const named = await readNamed(tx, job.siteId, input)
      const ended =
        job.state === 'done' || job.state === 'dropped'
          ? [{ code: 'JOB_ENDED', params: { job: job.number } }]
          : []
      const reasons = [...ended, ...prepareReasons(input, named)]
      if (reasons.length > 0)
        throw new AppError('PERMIT_REFUSED', { count: reasons.length }, reasons)
      const id = uuidv7()
      await tx.permit.create({
        select: { id: true },
        data: {
          id,
          siteId: job.siteId,
          preparedBy: viewer.personId,
          ...permitColumns(input, plannedSpan(input, named.zone)),
        },
      })
      await tx.permitEvent.create({
        select: { id: true },
        data: {
          id: uuidv7(),
          siteId: job.siteId,
          permitId: id,
          kind: 'prepared',
          personId: viewer.personId,
          roleThen: role,
        },
      })
      return { id }
    }),
  )
}
