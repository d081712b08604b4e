import 'server-only'
import { assertCan, can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { CYLINDER_GAS_CODES, type CylinderGasCode } from '@/lib/calc/gas-data'
import { convert } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import { type HazardTotal, hazardTotals } from '@/lib/rules/hazard'
import { judgeTrip, type TripBody, type TripLoad, type TripVerdict } from '@/lib/rules/trip'
import { db } from '../client'

const MOST_TRIPS = 30

type Named = Readonly<{ id: string; name: string }>

export type VehicleRow = Named &
  Readonly<{
    plate: string
    body: string
    hasTrailer: boolean
    payloadKg: number | null
    trailerPayloadKg: number | null
    isOut: boolean
  }>

export type TripRow = Readonly<{
  id: string
  state: string
  vehicleName: string
  driverName: string
  fromName: string
  toName: string
  madeAt: Date
  cylinders: number
}>

export type TripsPage = Readonly<{
  vehicles: readonly VehicleRow[]
  trips: readonly TripRow[]
  sites: readonly Named[]
  drivers: readonly Named[]
  mayMove: boolean
}>

/** The vehicles of a site, and the trips from it and to it. */
export async function listTrips(viewer: Viewer, siteId: string): Promise<TripsPage> {
  assertCan(viewer, 'cylinder:read', siteId)
  const [vehicles, trips, sites, drivers] = await Promise.all([
    db.vehicle.findMany({
      where: { siteId, removedAt: null },
      orderBy: { name: 'asc' },
      select: {
        id: true,
        name: true,
        plate: true,
        body: true,
        hasTrailer: true,
        payloadKg: true,
        trailerPayloadKg: true,
        trips: { where: { state: { not: 'ended' } }, select: { id: true }, take: 1 },
      },
    }),
    db.trip.findMany({
      where: { OR: [{ siteId }, { toSiteId: siteId }] },
      orderBy: [{ madeAt: 'desc' }, { id: 'desc' }],
      take: MOST_TRIPS,
      select: {
        id: true,
        state: true,
        madeAt: true,
        vehicle: { select: { name: true } },
        driver: { select: { name: true } },
        site: { select: { shortName: true } },
        toSite: { select: { shortName: true } },
        _count: { select: { items: true } },
      },
    }),
    // Where a truck may go is no secret of the company: it is what its people drive to.
    db.site.findMany({
      where: { id: { not: siteId } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    db.person.findMany({
      where: { disabledAt: null, grants: { some: { siteId, revokedAt: null } } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
  ])
  const mayMove = can(viewer, 'cylinder:move', siteId)
  const mine = sitesWhere(viewer, 'site:read')
  return {
    vehicles: vehicles.map(({ trips: out, ...vehicle }) => ({ ...vehicle, isOut: out.length > 0 })),
    trips: trips.map((trip) => ({
      id: trip.id,
      state: trip.state,
      madeAt: trip.madeAt,
      vehicleName: trip.vehicle.name,
      driverName: trip.driver.name,
      fromName: trip.site.shortName,
      toName: trip.toSite.shortName,
      cylinders: trip._count.items,
    })),
    sites: mayMove ? sites.filter((site) => mine.includes(site.id)) : [],
    drivers: mayMove ? drivers : [],
    mayMove,
  }
}

export type TripItemRow = Readonly<{
  id: string
  serial: string
  gasId: string
  sizeName: string
  body: TripBody
  grossKg: number
  isWeighed: boolean
  isEmpty: boolean
  isOff: boolean
}>

export type TripPage = Readonly<{
  id: string
  state: 'loading' | 'under_way' | 'ended'
  siteId: string
  fromName: string
  toSiteId: string
  toName: string
  toAddress: string
  emergencyWords: string
  zone: string
  vehicle: Readonly<{ name: string; plate: string; body: string; hasTrailer: boolean }>
  driverName: string
  purpose: TripLoad['purpose']
  checks: readonly string[]
  otherGrossKg: number
  shippingPaperNo: string | null
  /** On the day it leaves or left, by the record. */
  isDriverTrained: boolean
  arePlacardsShown: boolean
  leftAt: Date | null
  endedAt: Date | null
  items: readonly TripItemRow[]
  /** What each body may carry by its own papers; null: nobody said. */
  payloadLb: Readonly<Record<TripBody, number | null>>
  verdict: TripVerdict
  /** What rides of each kind of hazard. */
  hazards: readonly HazardTotal<TripBody>[]
  areas: readonly Named[]
  can: Readonly<{ load: boolean; unload: boolean }>
}>

const isOfKnownGas = <T extends Readonly<{ gasId: string }>>(
  one: T,
): one is T & { gasId: CylinderGasCode } =>
  (CYLINDER_GAS_CODES as readonly string[]).includes(one.gasId)

export const poundsOf = (kg: number) => convert({ value: kg, from: 'kg', to: 'lb' })

/** Whether somebody's training for papers covers the site's day. */
async function isTrainedToday(personId: string, siteId: string): Promise<boolean> {
  const rows = await db.$queryRaw<{ found: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM qualifications q WHERE q.person_id = ${personId}::uuid AND q.kind = 'hazmat_driver'
                   AND kerf_site_day(${siteId}::uuid, kerf_now()) BETWEEN q.valid_from AND q.valid_until) AS found`
  return rows[0]?.found === true
}

const TRIP_COLUMNS = {
  id: true,
  state: true,
  siteId: true,
  toSiteId: true,
  driverId: true,
  purpose: true,
  checks: true,
  otherGrossKg: true,
  shippingPaperNo: true,
  driverTrained: true,
  placardsShown: true,
  leftAt: true,
  endedAt: true,
  site: { select: { name: true, zone: true } },
  toSite: { select: { name: true, address: true, emergencyWords: true } },
  vehicle: {
    select: {
      name: true,
      plate: true,
      body: true,
      hasTrailer: true,
      payloadKg: true,
      trailerPayloadKg: true,
    },
  },
  driver: { select: { name: true } },
  items: {
    orderBy: { loadedAt: 'asc' },
    select: {
      id: true,
      body: true,
      grossKg: true,
      isWeighed: true,
      unloadedAt: true,
      cylinder: {
        select: {
          serial: true,
          gasId: true,
          contentsKg: true,
          size: { select: { name: true, heelKg: true } },
        },
      },
    },
  },
} as const

/** A trip and what is on it, with what that load is on the road. */
export async function getTrip(viewer: Viewer, tripId: string): Promise<TripPage> {
  const trip = await db.trip.findUnique({ where: { id: tripId }, select: TRIP_COLUMNS })
  if (!trip) throw new AppError('NOT_FOUND')
  const readable = sitesWhere(viewer, 'cylinder:read')
  if (![trip.siteId, trip.toSiteId].some((siteId) => readable.includes(siteId)))
    throw new AppError('NOT_FOUND')
  const mayUnload = can(viewer, 'cylinder:move', trip.toSiteId)
  const areas = mayUnload
    ? await db.area.findMany({
        where: { siteId: trip.toSiteId },
        orderBy: { name: 'asc' },
        select: { id: true, name: true },
      })
    : []
  const items = trip.items.map(({ cylinder, body, unloadedAt, ...item }) => ({
    ...item,
    body: body as TripBody, // a CHECK holds it
    serial: cylinder.serial,
    gasId: cylinder.gasId,
    sizeName: cylinder.size.name,
    isEmpty: cylinder.contentsKg !== null && cylinder.contentsKg <= cylinder.size.heelKg,
    isOff: unloadedAt !== null,
  }))
  const { site, toSite, driver, driverTrained, placardsShown, checks, state, purpose, ...rest } =
    trip
  const isDriverTrained =
    state === 'loading' ? await isTrainedToday(trip.driverId, trip.siteId) : driverTrained
  const { payloadKg, trailerPayloadKg } = rest.vehicle
  const payloadLb = {
    truck: payloadKg === null ? null : poundsOf(payloadKg),
    trailer: trailerPayloadKg === null ? null : poundsOf(trailerPayloadKg),
  }
  const riding = items
    .filter((item) => state === 'ended' || !item.isOff)
    .map(({ gasId, body, grossKg }) => ({ gasId, body, grossLb: poundsOf(grossKg) }))
  return {
    ...rest,
    payloadLb,
    state: state as TripPage['state'],
    purpose: purpose as TripLoad['purpose'],
    fromName: site.name,
    zone: site.zone,
    toName: toSite.name,
    toAddress: toSite.address,
    emergencyWords: toSite.emergencyWords,
    driverName: driver.name,
    checks: checks as string[],
    isDriverTrained,
    arePlacardsShown: placardsShown,
    items,
    hazards: hazardTotals(riding.filter(isOfKnownGas)),
    verdict: judgeTrip({
      carrier: 'private',
      purpose: purpose as TripLoad['purpose'],
      cylinders: riding,
      otherGrossLb: poundsOf(trip.otherGrossKg),
    }),
    areas,
    can: { load: can(viewer, 'cylinder:move', trip.siteId), unload: mayUnload },
  }
}
