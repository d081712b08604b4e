import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { tripReasons } from '@/lib/rules/trip'
import type {
  AddVehicleInput,
  ChangeVehicleInput,
  LeaveInput,
  LoadCylinderInput,
  RemoveVehicleInput,
  StartTripInput,
  UnloadInput,
} from '@/lib/schemas/trip'
import { db } from '../client'
import { once } from '../client-keys'
import { nowIn } from '../people-guard'
import { roleThen } from '../role-then'
import { guardStorage } from '../storage-moves'
import { inTransaction, type Tx } from '../tx'
import { getTrip, poundsOf } from './trips'

export async function addVehicle(viewer: Viewer, input: AddVehicleInput): Promise<{ id: string }> {
  assertCan(viewer, 'cylinder:move', input.siteId)
  return inTransaction(viewer, 'vehicle:add', (tx) =>
    once(tx, viewer, { key: input.key, action: 'vehicle:add', input }, async () => {
      const { key: _key, ...data } = input
      const id = uuidv7()
      await tx.vehicle.create({ select: { id: true }, data: { id, ...data } })
      return { id }
    }),
  )
}

/** Another plate, another body, a trailer; not while it is on a trip, which was judged by what it was. */
export async function changeVehicle(
  viewer: Viewer,
  input: ChangeVehicleInput,
): Promise<{ id: string }> {
  const { key, vehicleId: id, ...data } = input
  const vehicle = await db.vehicle.findUnique({ where: { id }, select: { siteId: true } })
  if (!vehicle) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:move', vehicle.siteId)
  return inTransaction(viewer, 'vehicle:change', (tx) =>
    once(tx, viewer, { key, action: 'vehicle:change', input }, async () => {
      const out = await tx.trip.count({ where: { vehicleId: id, state: { not: 'ended' } } })
      if (out > 0) throw new AppError('VEHICLE_OUT')
      const { count } = await tx.vehicle.updateMany({ where: { id, removedAt: null }, data })
      if (count === 0) throw new AppError('CONFLICT')
      return { id }
    }),
  )
}

export async function removeVehicle(
  viewer: Viewer,
  input: RemoveVehicleInput,
): Promise<{ id: string }> {
  const { vehicleId: id } = input
  const vehicle = await db.vehicle.findUnique({ where: { id }, select: { siteId: true } })
  if (!vehicle) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'cylinder:move', vehicle.siteId)
  return inTransaction(viewer, 'vehicle:remove', (tx) =>
    once(tx, viewer, { key: input.key, action: 'vehicle:remove', input }, async () => {
      const out = await tx.trip.count({ where: { vehicleId: id, state: { not: 'ended' } } })
      if (out > 0) throw new AppError('VEHICLE_OUT')
      const { count } = await tx.vehicle.updateMany({
        where: { id, removedAt: null },
        data: { removedAt: await nowIn(tx) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id }
    }),
  )
}

/** A trip to another site of the viewer's: the driver and the vehicle are of the site it leaves. */
export async function startTrip(viewer: Viewer, input: StartTripInput): Promise<{ id: string }> {
  assertCan(viewer, 'cylinder:move', input.siteId)
  assertCan(viewer, 'site:read', input.toSiteId)
  if (input.siteId === input.toSiteId) throw new AppError('SAME_SITE')
  return inTransaction(viewer, 'trip:start', (tx) =>
    once(tx, viewer, { key: input.key, action: 'trip:start', input }, async () => {
      const { key: _key, ...data } = input
      const { siteId, vehicleId, driverId } = data
      const vehicle = await tx.vehicle.count({ where: { id: vehicleId, siteId, removedAt: null } })
      const driver = await tx.grant.count({
        where: { personId: driverId, siteId, revokedAt: null, person: { disabledAt: null } },
      })
      if (vehicle === 0 || driver === 0) throw new AppError('NOT_FOUND')
      const id = uuidv7()
      await tx.trip.create({
        select: { id: true },
        data: { id, ...data, madeBy: viewer.personId },
      })
      return { id }
    }),
  )
}

async function tripOf(tripId: string) {
  const trip = await db.trip.findUnique({
    where: { id: tripId },
    select: { siteId: true, toSiteId: true },
  })
  if (!trip) throw new AppError('NOT_FOUND')
  return trip
}

/** Tare and what is in it, else the size's own weight; without any of them it goes on a scale first. */
async function grossOf(tx: Tx, siteId: string, serial: string) {
  const cylinder = await tx.cylinder.findFirst({
    where: { serial, siteId },
    select: {
      id: true,
      tareKg: true,
      contentsKg: true,
      holds: true,
      size: { select: { tareKg: true, grossKg: true, nominalKg: true } },
    },
  })
  if (!cylinder) throw new AppError('CYLINDER_UNKNOWN')
  const { id, tareKg, contentsKg, holds, size } = cylinder
  const tare = tareKg ?? (size.tareKg === null ? null : size.tareKg * holds)
  const full = size.grossKg === null ? null : size.grossKg * holds
  const grossKg = tare === null ? full : tare + (contentsKg ?? size.nominalKg * holds)
  return { id, grossKg }
}

/** Puts a cylinder on the vehicle: from then on it is on the road and nowhere else. */
export async function loadCylinder(
  viewer: Viewer,
  input: LoadCylinderInput,
): Promise<{ id: string }> {
  const trip = await tripOf(input.tripId)
  const role = roleThen(viewer, 'cylinder:move', trip.siteId)
  return inTransaction(viewer, 'trip:load', (tx) =>
    once(tx, viewer, { key: input.key, action: 'trip:load', input }, async () => {
      const { tripId, serial, body, weighedKg } = input
      const { id: cylinderId, grossKg } = await grossOf(tx, trip.siteId, serial)
      const weight = weighedKg ?? grossKg
      if (weight === null) throw new AppError('WEIGH_IT', { serial })
      await tx.cylinderEvent.create({
        select: { id: true },
        data: {
          id: uuidv7(),
          cylinderId,
          kind: 'loaded',
          siteId: trip.siteId,
          toSiteId: trip.toSiteId,
          personId: viewer.personId,
          roleThen: role,
        },
      })
      const id = uuidv7()
      await tx.tripItem.create({
        select: { id: true },
        data: {
          ...{ id, tripId, siteId: trip.siteId, cylinderId, body },
          grossKg: weight,
          isWeighed: weighedKg !== null,
        },
      })
      return { id }
    }),
  )
}

/** Off it goes, when every check is made and the load may ride as it is; else with every reason. */
export async function leave(viewer: Viewer, input: LeaveInput): Promise<{ id: string }> {
  const { siteId } = await tripOf(input.tripId)
  assertCan(viewer, 'cylinder:move', siteId)
  const trip = await getTrip(viewer, input.tripId)
  const { checks, otherGrossKg, shippingPaperNo, placardsShown } = input
  const load = {
    carrier: 'private' as const,
    purpose: trip.purpose,
    cylinders: trip.items
      .filter((item) => !item.isOff)
      .map((item) => ({ body: item.body, grossLb: poundsOf(item.grossKg) })),
    otherGrossLb: poundsOf(otherGrossKg),
    payloadLb: trip.payloadLb,
  }
  const papers = {
    shippingPaperNo,
    isDriverTrained: trip.isDriverTrained,
    arePlacardsShown: placardsShown,
  }
  const reasons = tripReasons(load, { checks, papers })
  const [first] = reasons
  if (first) throw new AppError(first.code, first.params, reasons)
  return inTransaction(viewer, 'trip:leave', (tx) =>
    once(tx, viewer, { key: input.key, action: 'trip:leave', input }, async () => {
      const { count } = await tx.trip.updateMany({
        where: { id: input.tripId, state: 'loading' },
        data: {
          state: 'under_way',
          checks: [...checks],
          otherGrossKg,
          shippingPaperNo,
          placardsShown,
        },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.tripId }
    }),
  )
}

/** At the other end, or back where it came from: each stands there from then on; the last one ends the trip. */
export async function unload(viewer: Viewer, input: UnloadInput): Promise<{ id: string }> {
  const trip = await tripOf(input.tripId)
  const { siteId, areaId } = input
  if (siteId !== trip.toSiteId && siteId !== trip.siteId) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'cylinder:move', siteId)
  return inTransaction(viewer, 'trip:unload', (tx) =>
    once(tx, viewer, { key: input.key, action: 'trip:unload', input }, async () => {
      const { tripId } = input
      const items = await tx.tripItem.findMany({
        where: { tripId, id: { in: input.items } },
        orderBy: { cylinderId: 'asc' },
        select: { id: true, cylinderId: true },
      })
      if (items.length < new Set(input.items).size) throw new AppError('NOT_FOUND')
      const cylinderIds = items.map((item) => item.cylinderId)
      const isConfirmed = input.storageConfirmed ?? false
      await guardStorage(tx, viewer, { siteId, areaId, cylinderIds, isConfirmed, role })
      for (const { id, cylinderId } of items) {
        await tx.cylinderEvent.create({
          select: { id: true },
          data: {
            ...{ id: uuidv7(), cylinderId, kind: 'unloaded', siteId, areaId },
            personId: viewer.personId,
            roleThen: role,
          },
        })
        await tx.tripItem.update({
          where: { id },
          data: { unloadedAt: await nowIn(tx), unloadedSiteId: siteId },
          select: { id: true },
        })
      }
      const left = await tx.tripItem.count({ where: { tripId, unloadedAt: null } })
      if (left === 0)
        await tx.trip.update({
          where: { id: tripId },
          data: { state: 'ended' },
          select: { id: true },
        })
      return { id: tripId }
    }),
  )
}
