import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { SwapInput } from '@/lib/schemas/swap'
import { db } from './client'
import { once } from './client-keys'
import { asOneVessel, contentsOrRefuse, readingColumns, type SizeRow } from './contents'
import { Prisma } from './generated/client'
import { roleThen } from './role-then'
import { guardStorage } from './storage-moves'
import { inTransaction, type Tx } from './tx'

export type Swapped = Readonly<{ swapId: string | null; onCylinderId: string; wasWrong: boolean }>

type Observed = Partial<
  Record<'gaugeKpa' | 'weightKg' | 'temperatureK' | 'contentsKg' | 'contentsUKg', number>
>

type FoundEnds = Readonly<{
  siteId: string
  onId: string | null
  offId: string | null
  offSerial: string | null
  offTareKg: number | null
  offHolds: number | null
  offSize: SizeRow | null
  permitSiteId: string | null
  jobId: string | null
}>

/** One statement for all that a swap names: a phone with one bar waits for every trip. */
async function readEnds(input: SwapInput): Promise<FoundEnds> {
  const [found] = await db.$queryRaw<FoundEnds[]>`
    SELECT o.site_id AS "siteId", n.id AS "onId", f.id AS "offId", f.serial AS "offSerial", f.tare_kg AS "offTareKg", f.holds AS "offHolds",
           CASE WHEN z.id IS NOT NULL THEN jsonb_build_object('id', z.id, 'gasId', z.gas_id, 'name', z.name, 'nominalKg', z.nominal_kg,
             'waterVolumeL', z.water_volume_l, 'fullGaugeKpa', z.full_gauge_kpa, 'tareKg', z.tare_kg, 'heelKg', z.heel_kg,
             'changeAtGaugeKpa', z.change_at_gauge_kpa) END AS "offSize",
           p.site_id AS "permitSiteId", p.job_id AS "jobId"
    FROM outfits o
    LEFT JOIN cylinders n ON n.serial = ${input.onSerial}
    LEFT JOIN cylinders f ON f.id = ${input.offCylinderId}::uuid
    LEFT JOIN cylinder_sizes z ON z.id = f.size_id
    LEFT JOIN permits p ON p.id = ${input.permitId}::uuid
    WHERE o.id = ${input.outfitId}::uuid`
  if (!found) throw new AppError('NOT_FOUND')
  return found
}

/** Both cylinders, the outfit and the permit that a swap names; all at one site of the viewer. */
async function findEnds(viewer: Viewer, input: SwapInput) {
  const found = await readEnds(input)
  const role = roleThen(viewer, 'cylinder:swap', found.siteId)
  const { siteId, jobId, onId, offId } = found
  if (!onId) throw new AppError('SERIAL_UNKNOWN', { serial: input.onSerial })
  if (input.permitId !== null && found.permitSiteId !== siteId) throw new AppError('NOT_FOUND')
  if (input.offCylinderId !== null && !offId) throw new AppError('NOT_ON_OUTFIT', { serial: '' })
  if (offId === onId) throw new AppError('SAME_CYLINDER', { serial: found.offSerial ?? '' })
  return { siteId, jobId, role, onId, offId, observed: observedOf(input, found) }
}

type Ends = Awaited<ReturnType<typeof findEnds>>

/** What the reading of the one that came off means; nothing where none was taken. */
function observedOf({ offReading }: SwapInput, found: FoundEnds): Observed {
  if (!offReading || !found.offSize) return {}
  const size = asOneVessel(found.offSize, found.offHolds ?? 1)
  return readingColumns(offReading, contentsOrRefuse(offReading, size, found.offTareKg))
}

type Event = Readonly<{
  cylinderId: string
  kind: string
  areaId: string | null
  markedEmpty: boolean
}> &
  Readonly<{ reason: string | null; observed: Observed }>

/** Off, then on: one statement, whose rows the triggers judge in this order. */
async function recordEvents(
  tx: Tx,
  viewer: Viewer,
  input: SwapInput,
  ends: Ends,
  swapId: string | null,
): Promise<void> {
  const row = ({ cylinderId, kind, areaId, markedEmpty, reason, observed }: Event) => Prisma.sql`(
    ${uuidv7()}::uuid, ${cylinderId}::uuid, ${kind}, ${areaId}::uuid, ${swapId}::uuid, ${markedEmpty}, ${reason},
    ${ends.siteId}::uuid, ${input.outfitId}::uuid, ${input.side}, ${input.place}::int, ${ends.jobId}::uuid, ${input.permitId}::uuid,
    ${viewer.personId}::uuid, ${ends.role}, ${observed.gaugeKpa ?? null}::float8, ${observed.weightKg ?? null}::float8,
    ${observed.temperatureK ?? null}::float8, ${observed.contentsKg ?? null}::float8, ${observed.contentsUKg ?? null}::float8)`
  const on = {
    cylinderId: ends.onId,
    kind: input.foundOn ? 'found_on' : 'put_on',
    areaId: null,
    markedEmpty: false,
    reason: input.reason,
    observed: {},
  }
  const off = ends.offId && {
    cylinderId: ends.offId,
    kind: 'taken_off',
    areaId: input.offAreaId ?? null,
    markedEmpty: input.markedEmpty,
    reason: null,
    observed: ends.observed,
  }
  await tx.$executeRaw`
    INSERT INTO cylinder_events (id, cylinder_id, kind, area_id, swap_id, marked_empty, reason, site_id, outfit_id, side, place, job_id, permit_id,
      person_id, role_then, gauge_kpa, weight_kg, temperature_k, contents_kg, contents_u_kg)
    VALUES ${Prisma.join(off ? [row(off), row(on)] : [row(on)])}`
}

async function recordSwap(tx: Tx, viewer: Viewer, input: SwapInput, ends: Ends): Promise<string> {
  const id = uuidv7()
  await tx.$executeRaw`
    INSERT INTO swaps (id, site_id, outfit_id, side, off_cylinder_id, on_cylinder_id, job_id, permit_id, person_id, role_then, shut_and_bled, leak_tested)
    VALUES (${id}::uuid, ${ends.siteId}::uuid, ${input.outfitId}::uuid, ${input.side}, ${ends.offId}::uuid, ${ends.onId}::uuid,
      ${ends.jobId}::uuid, ${input.permitId}::uuid, ${viewer.personId}::uuid, ${ends.role}, ${input.shutAndBled}, ${input.leakTested})`
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
      if (ends.offId)
        await guardStorage(tx, viewer, {
          siteId: ends.siteId,
          areaId: input.offAreaId ?? null,
          cylinderIds: [ends.offId],
          isConfirmed: input.storageConfirmed ?? false,
          role: ends.role,
        })
      const swapId = input.foundOn ? null : await recordSwap(tx, viewer, input, ends)
      await recordEvents(tx, viewer, input, ends, swapId)
      return { swapId, onCylinderId: ends.onId, wasWrong: input.foundOn }
    }),
  )
}
