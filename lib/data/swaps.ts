import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { SwapInput } from '@/lib/schemas/swap'
import { db } from './client'
import { once } from './client-keys'
import { asOneVessel, contentsOrRefuse, readingColumns, SIZE_COLUMNS } from './contents'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

export type Swapped = Readonly<{ swapId: string | null; onCylinderId: string; wasWrong: boolean }>

type Ends = Awaited<ReturnType<typeof findEnds>>

/** Both cylinders, the outfit and the permit that a swap names; all at one site of the viewer. */
async function findEnds(viewer: Viewer, input: SwapInput) {
  const outfit = await db.outfit.findUnique({
    where: { id: input.outfitId },
    select: { siteId: true },
  })
  if (!outfit) throw new AppError('NOT_FOUND')
  const role = roleThen(viewer, 'cylinder:swap', outfit.siteId)
  const [on, off, permit] = await Promise.all([
    db.cylinder.findUnique({ where: { serial: input.onSerial }, select: { id: true } }),
    input.offCylinderId === null
      ? null
      : db.cylinder.findUnique({
          where: { id: input.offCylinderId },
          select: {
            id: true,
            serial: true,
            tareKg: true,
            holds: true,
            size: { select: SIZE_COLUMNS },
          },
        }),
    input.permitId === null
      ? null
      : db.permit.findUnique({
          where: { id: input.permitId },
          select: { siteId: true, jobId: true },
        }),
  ])
  if (!on) throw new AppError('SERIAL_UNKNOWN', { serial: input.onSerial })
  if (input.permitId !== null && permit?.siteId !== outfit.siteId) throw new AppError('NOT_FOUND')
  if (input.offCylinderId !== null && !off) throw new AppError('NOT_ON_OUTFIT', { serial: '' })
  if (off && off.id === on.id) throw new AppError('SAME_CYLINDER', { serial: off.serial })
  return { siteId: outfit.siteId, jobId: permit?.jobId ?? null, role, on, off }
}

/** Columns that both events of a swap share. */
function shared(viewer: Viewer, input: SwapInput, ends: Ends) {
  return {
    siteId: ends.siteId,
    outfitId: input.outfitId,
    side: input.side,
    place: input.place,
    jobId: ends.jobId,
    permitId: input.permitId,
    personId: viewer.personId,
    roleThen: ends.role,
  }
}

async function takeOff(
  tx: Tx,
  viewer: Viewer,
  input: SwapInput,
  ends: Ends,
  swapId: string | null,
): Promise<void> {
  if (!ends.off) return
  const reading = input.offReading
  const observed = reading
    ? readingColumns(
        reading,
        contentsOrRefuse(reading, asOneVessel(ends.off.size, ends.off.holds), ends.off.tareKg),
      )
    : {}
  await tx.cylinderEvent.create({
    data: {
      id: uuidv7(),
      cylinderId: ends.off.id,
      kind: 'taken_off',
      swapId,
      markedEmpty: input.markedEmpty,
      ...shared(viewer, input, ends),
      ...observed,
    },
    select: { id: true },
  })
}

async function putOn(
  tx: Tx,
  viewer: Viewer,
  input: SwapInput,
  ends: Ends,
  swapId: string | null,
): Promise<void> {
  const kind = input.foundOn ? 'found_on' : 'put_on'
  await tx.cylinderEvent.create({
    data: {
      id: uuidv7(),
      cylinderId: ends.on.id,
      kind,
      swapId,
      reason: input.reason,
      ...shared(viewer, input, ends),
    },
    select: { id: true },
  })
}

async function recordSwap(tx: Tx, viewer: Viewer, input: SwapInput, ends: Ends): Promise<string> {
  const id = uuidv7()
  await tx.swap.create({
    data: {
      id,
      siteId: ends.siteId,
      outfitId: input.outfitId,
      side: input.side,
      offCylinderId: ends.off?.id ?? null,
      onCylinderId: ends.on.id,
      jobId: ends.jobId,
      permitId: input.permitId,
      personId: viewer.personId,
      roleThen: ends.role,
      shutAndBled: input.shutAndBled,
      leakTested: input.leakTested,
    },
    select: { id: true },
  })
  return id
}

/**
 * One cylinder off an outfit and another on, in one act. The triggers refuse the wrong gas, an empty
 * or quarantined one, one that is elsewhere. `foundOn` records a wrong one that is on already as what
 * it is: no swap, and the outfit goes out of service.
 */
export async function swapCylinder(viewer: Viewer, input: SwapInput): Promise<Swapped> {
  const ends = await findEnds(viewer, input)
  return inTransaction(viewer, input.foundOn ? 'cylinder:found-on' : 'cylinder:swap', (tx) =>
    once(tx, viewer, { key: input.key, action: 'cylinder:swap', input }, async () => {
      const swapId = input.foundOn ? null : await recordSwap(tx, viewer, input, ends)
      await takeOff(tx, viewer, input, ends, swapId)
      await putOn(tx, viewer, input, ends, swapId)
      return { swapId, onCylinderId: ends.on.id, wasWrong: input.foundOn }
    }),
  )
}
