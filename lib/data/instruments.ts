import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import type { AddInstrumentInput, CheckInstrumentInput } from '@/lib/schemas/instrument'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction } from './tx'

/** Calendar days are ISO text; null: never, or the last one failed. */
export type Instrument = Readonly<{
  id: string
  name: string
  model: string
  bumpedOn: string | null
  calibratedUntil: string | null
  /** Bump-tested today and within its calibration: good for a gas test of today. */
  isReady: boolean
}>

interface Row {
  id: string
  name: string
  model: string
  bumped_on: string | null
  calibrated_until: string | null
}

/** A site's instruments with what their last checks say; the last of each kind decides. */
export async function readInstruments(siteId: string, day: string): Promise<readonly Instrument[]> {
  const rows = await db.$queryRaw<Row[]>`
    SELECT g.id, g.name, g.model, b.day::text AS bumped_on, c.day::text AS calibrated_until
    FROM gas_instruments g
    LEFT JOIN LATERAL (SELECT CASE WHEN x.passed THEN x.on_day END AS day FROM instrument_checks x
      WHERE x.instrument_id = g.id AND x.kind = 'bump' ORDER BY x.at DESC, x.id DESC LIMIT 1) b ON true
    LEFT JOIN LATERAL (SELECT CASE WHEN x.passed THEN x.valid_until END AS day FROM instrument_checks x
      WHERE x.instrument_id = g.id AND x.kind = 'calibration' ORDER BY x.at DESC, x.id DESC LIMIT 1) c ON true
    WHERE g.site_id = ${siteId}::uuid ORDER BY g.name LIMIT 200`
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    model: row.model,
    bumpedOn: row.bumped_on,
    calibratedUntil: row.calibrated_until,
    isReady:
      row.bumped_on !== null &&
      row.bumped_on >= day &&
      row.calibrated_until !== null &&
      row.calibrated_until >= day,
  }))
}

export type InstrumentsView = Readonly<{
  siteId: string
  siteName: string
  day: string
  instruments: readonly Instrument[]
  canChange: boolean
}>

export async function getInstruments(viewer: Viewer, siteId: string): Promise<InstrumentsView> {
  assertCan(viewer, 'permit:read', siteId)
  const [site, clock] = await Promise.all([
    db.site.findUnique({ where: { id: siteId }, select: { name: true, zone: true } }),
    db.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`,
  ])
  if (!site || !clock[0]) throw new AppError('NOT_FOUND')
  const day = localDay(clock[0].now, site.zone)
  return {
    siteId,
    siteName: site.name,
    day,
    instruments: await readInstruments(siteId, day),
    canChange: can(viewer, 'outfit:inspect', siteId),
  }
}

export async function addInstrument(
  viewer: Viewer,
  input: AddInstrumentInput,
): Promise<{ id: string }> {
  assertCan(viewer, 'outfit:inspect', input.siteId)
  const { siteId, name, model } = input
  return inTransaction(viewer, 'outfit:inspect', (tx) =>
    once(tx, viewer, { key: input.key, action: 'instrument:add', input }, async () => {
      if ((await tx.gasInstrument.count({ where: { siteId, name } })) > 0)
        throw new AppError('INSTRUMENT_KNOWN', { instrument: name })
      const id = uuidv7()
      await tx.gasInstrument.create({
        select: { id: true },
        data: { id, siteId, name, model, addedBy: viewer.personId },
      })
      return { id }
    }),
  )
}

const asDay = (day: string) => new Date(`${day}T00:00:00.000Z`)

/** Keeps a check however it came out: one that failed takes the instrument out of use. */
export async function checkInstrument(
  viewer: Viewer,
  input: CheckInstrumentInput,
): Promise<{ id: string }> {
  const { instrumentId, kind, passed, note } = input
  const instrument = await db.gasInstrument.findUnique({
    where: { id: instrumentId },
    select: { siteId: true },
  })
  if (!instrument) throw new AppError('NOT_FOUND')
  const { siteId } = instrument
  assertCan(viewer, 'outfit:inspect', siteId)
  const role = roleThen(viewer, 'outfit:inspect', siteId)
  return inTransaction(viewer, 'outfit:inspect', (tx) =>
    once(tx, viewer, { key: input.key, action: 'instrument:check', input }, async () => {
      const id = uuidv7()
      await tx.instrumentCheck.create({
        select: { id: true },
        data: {
          ...{ id, siteId, instrumentId, kind, passed, note },
          onDay: asDay(input.onDay),
          validUntil: kind === 'calibration' && input.validUntil ? asDay(input.validUntil) : null,
          personId: viewer.personId,
          roleThen: role,
        },
      })
      return { id }
    }),
  )
}
