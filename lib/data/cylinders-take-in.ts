import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { firstDue, latestDue, specOf } from '@/lib/rules/test-due'
import { type TakeInInput, tareKgOf } from '@/lib/schemas/cylinder-life'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { nearSerials } from './serials'
import { guardStorage } from './storage-moves'
import { inTransaction } from './tx'

const dayText = (date: Date) => date.toISOString().slice(0, 10)
const NEVER_DUE: ReadonlySet<string> = new Set(['4L', '3E'])

/** The month it is due: as stamped, else what its specification makes of its last test or its making. */
function dueOf(input: TakeInInput, gasId: string): Date | null {
  if (input.dueMonth) return input.dueMonth
  const spec = input.spec ?? ''
  if (NEVER_DUE.has(specOf(spec) ?? '')) return null
  const madeMonth = input.madeMonth ? dayText(input.madeMonth).slice(0, 7) : null
  const { vessel, method, isStarred, testedOn } = input
  const plate = { spec, gasId, vessel, madeMonth, method, isStarred }
  const due = testedOn
    ? latestDue(plate, dayText(testedOn))
    : madeMonth
      ? firstDue({ ...plate, madeMonth })
      : null
  return due ? new Date(`${due}-01T00:00:00.000Z`) : null
}

async function refuseNearMiss(viewer: Viewer, input: TakeInInput): Promise<void> {
  const known = await db.cylinder.count({ where: { serial: input.serial } })
  if (known > 0) throw new AppError('SERIAL_KNOWN', { serial: input.serial })
  if (input.isAnother) return
  const near = await nearSerials(viewer, input.serial)
  if (near.length === 0) return
  const reasons = near.map(({ serial, how }) => ({
    code: `SERIAL_NEAR_${how.toUpperCase()}`,
    params: { serial: input.serial, known: serial },
  }))
  throw new AppError('SERIAL_NEAR', { count: near.length }, reasons)
}

/** A cylinder, pack, dewar or set that the company buys or rents: its plate, and where it stands. */
export async function takeInCylinder(
  viewer: Viewer,
  input: TakeInInput,
): Promise<{ cylinderId: string; eventId: string }> {
  const role = roleThen(viewer, 'cylinder:receive', input.siteId)
  const size = await db.cylinderSize.findUnique({
    where: { id: input.sizeId },
    select: { gasId: true },
  })
  if (!size) throw new AppError('SIZE_UNKNOWN')
  if (input.how === 'rented_in' && !input.supplierId) throw new AppError('SUPPLIER_UNKNOWN')
  return inTransaction(viewer, 'cylinder:take-in', (tx) =>
    once(tx, viewer, { key: input.key, action: 'cylinder:take-in', input }, async () => {
      await refuseNearMiss(viewer, input)
      const holds = input.holds ?? 1
      await guardStorage(tx, viewer, {
        siteId: input.siteId,
        areaId: input.areaId,
        sizes: [{ sizeId: input.sizeId, holds }],
        isConfirmed: input.storageConfirmed ?? false,
        role,
      })
      const [cylinderId, eventId] = [uuidv7(), uuidv7()]
      await tx.cylinder.create({
        data: {
          id: cylinderId,
          serial: input.serial,
          gasId: size.gasId,
          sizeId: input.sizeId,
          spec: input.spec ?? '',
          vessel: input.vessel,
          holds,
          tareKg: tareKgOf(input),
          ownership: input.how === 'bought' ? 'owned' : 'rented',
          supplierId: input.supplierId,
          madeMonth: input.madeMonth,
          serviceLifeEnds: input.serviceLifeEnds,
          requalifiedOn: input.testedOn,
          testMethod: input.method,
          isStarred: input.isStarred,
          dueMonth: dueOf(input, size.gasId),
        },
        select: { id: true },
      })
      await tx.cylinderEvent.create({
        data: {
          id: eventId,
          cylinderId,
          kind: input.how,
          siteId: input.siteId,
          areaId: input.areaId,
          filledOn: input.filledOn,
          markedEmpty: input.isEmpty,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      return { cylinderId, eventId }
    }),
  )
}

export type TakeInChoices = Readonly<{
  sizes: readonly Readonly<{ id: string; name: string; gasId: string }>[]
  suppliers: readonly Readonly<{ id: string; name: string }>[]
  areas: readonly Readonly<{ id: string; name: string }>[]
}>

export async function takeInChoices(viewer: Viewer, siteId: string): Promise<TakeInChoices> {
  assertCan(viewer, 'cylinder:receive', siteId)
  const [sizes, suppliers, areas] = await Promise.all([
    db.cylinderSize.findMany({
      orderBy: { id: 'asc' },
      select: { id: true, name: true, gasId: true },
    }),
    db.supplier.findMany({ orderBy: { name: 'asc' }, take: 100, select: { id: true, name: true } }),
    db.area.findMany({
      where: { siteId },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
  ])
  return { sizes, suppliers, areas }
}
