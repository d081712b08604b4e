import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { instantOfLocal, localClock, localDay, nextDay } from '@/lib/format/local-time'
import type { OutsideInput } from '@/lib/schemas/watch'
import { db } from './client'
import { once } from './client-keys'
import { listSiteHands } from './permits/people'
import { roleThen } from './role-then'
import { inTransaction } from './tx'

export type OutsideForm = Readonly<{
  siteId: string
  siteName: string
  zone: string
  day: string
  clock: string
  areas: readonly Readonly<{ id: string; name: string }>[]
  permits: readonly Readonly<{
    id: string
    number: string
    areaId: string
    areaName: string
    operatorId: string
  }>[]
  operators: readonly Readonly<{ id: string; name: string }>[]
}>

const LIVING = ['open', 'held', 'watch', 'closed']

/** What the form offers: the site's areas, the permits that were in force lately, who may have cut. */
export async function getOutsideForm(viewer: Viewer, siteId: string): Promise<OutsideForm> {
  assertCan(viewer, 'work:outside', siteId)
  const [site, permits, clock] = await Promise.all([
    db.site.findUniqueOrThrow({
      where: { id: siteId },
      select: {
        name: true,
        zone: true,
        areas: { select: { id: true, name: true }, orderBy: { name: 'asc' }, take: 200 },
      },
    }),
    db.permit.findMany({
      where: { siteId, state: { in: LIVING } },
      select: {
        id: true,
        number: true,
        areaId: true,
        operatorId: true,
        area: { select: { name: true } },
        job: { select: { number: true } },
      },
      orderBy: { stateAt: 'desc' },
      take: 30,
    }),
    db.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`,
  ])
  const now = clock[0]?.now ?? new Date()
  const day = localDay(now, site.zone)
  const hands = await listSiteHands(siteId, day)
  return {
    siteId,
    siteName: site.name,
    zone: site.zone,
    day,
    clock: localClock(now, site.zone),
    areas: site.areas,
    permits: permits.map((row) => ({
      id: row.id,
      number: `${row.job.number}-${row.number}`,
      areaId: row.areaId,
      areaName: row.area.name,
      operatorId: row.operatorId,
    })),
    operators: hands.map(({ id, name }) => ({ id, name })),
  }
}

/** From and to on one day; an end before its start was after midnight. */
function workedSpan({ day, from, to }: OutsideInput, timeZone: string) {
  const fromAt = instantOfLocal({ day, clock: from, timeZone })
  const sameDay = instantOfLocal({ day, clock: to, timeZone })
  return {
    fromAt,
    toAt: sameDay > fromAt ? sameDay : instantOfLocal({ day: nextDay(day), clock: to, timeZone }),
  }
}

/**
 * What was cut outside any permit is a fact: it is kept, the PAIs and foremen are told, and a watch
 * of that area starts over from when it ended. It never counts as permitted.
 */
export async function recordWorkOutside(
  viewer: Viewer,
  input: OutsideInput,
): Promise<{ id: string; siteId: string; permitId: string | null }> {
  const area = await db.area.findUnique({
    where: { id: input.areaId },
    select: { siteId: true, site: { select: { zone: true } } },
  })
  if (!area) throw new AppError('NOT_FOUND')
  const { siteId } = area
  const role = roleThen(viewer, 'work:outside', siteId)
  const { key, areaId, permitId, operatorId, what, why } = input
  if (permitId && (await db.permit.count({ where: { id: permitId, siteId } })) === 0)
    throw new AppError('NOT_FOUND')
  if ((await db.grant.count({ where: { siteId, personId: operatorId, revokedAt: null } })) === 0)
    throw new AppError('NOT_FOUND')
  const span = workedSpan(input, area.site.zone)
  return inTransaction(viewer, 'work:outside', (tx) =>
    once(tx, viewer, { key, action: 'work:outside', input }, async () => {
      const { id } = await tx.workOutsidePermit.create({
        select: { id: true },
        data: {
          id: uuidv7(),
          siteId,
          areaId,
          permitId,
          operatorId,
          ...span,
          personId: viewer.personId,
          roleThen: role,
          what,
          why,
        },
      })
      return { id, siteId, permitId }
    }),
  )
}
