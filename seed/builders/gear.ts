import { v7 as uuidv7 } from 'uuid'
import { asDelivered, observedColumns } from '../demo/readings'
import { type Db, playNow } from '../play'
import { writeCylinderEvents, writeSwap } from '../records/cylinder'
import { type Doing, writeSetUp } from '../records/scribe'
import { type SizeId, sizeOf } from '../reference'

export type BuiltCylinder = Readonly<{ id: string; serial: string; sizeId: SizeId }>

const PREFIX: Readonly<Record<string, string>> = { oxygen: 'OX', acetylene: 'AC', propane: 'PR' }

export type CylinderWanted = Readonly<{
  siteId: string
  keeperId: string
  sizeId?: SizeId
  dueMonth?: string | null
  filledOn?: string
}>

const keeperOf = (keeperId: string): Doing => ({ atMs: 0, personId: keeperId, role: 'yard_hand' })

/** A full cylinder, registered and received at a site. */
export async function buildCylinder(db: Db, wanted: CylinderWanted): Promise<BuiltCylinder> {
  const sizeId = wanted.sizeId ?? 'oxygen-244'
  const id = uuidv7()
  const { gas, tareKg } = sizeOf(sizeId)
  const cylinder = { id, serial: `${PREFIX[gas] ?? 'CY'}-T${id.slice(-10).toUpperCase()}`, sizeId }
  await playNow(db, (scribe) => {
    writeSetUp(scribe, 0, 'cylinders', {
      id,
      serial: cylinder.serial,
      gas_id: gas,
      size_id: sizeId,
      spec: gas === 'oxygen' ? 'DOT 3AA' : 'DOT 8',
      tare_kg: tareKg ?? 50,
      due_month: wanted.dueMonth ?? null,
    })
    const columns = { ...observedColumns(asDelivered(sizeId)), filled_on: wanted.filledOn ?? null }
    writeCylinderEvents(scribe, keeperOf(wanted.keeperId), [
      { kind: 'received', cylinderId: id, siteId: wanted.siteId, columns },
    ])
  })
  return cylinder
}

/** Set aside: nobody may use it until it is released. */
export async function quarantineCylinder(
  db: Db,
  cylinder: BuiltCylinder,
  { siteId, keeperId }: Readonly<{ siteId: string; keeperId: string }>,
): Promise<void> {
  const columns = { reason: 'Valve hisses' }
  await playNow(db, (scribe) =>
    writeCylinderEvents(scribe, keeperOf(keeperId), [
      { kind: 'quarantined', cylinderId: cylinder.id, siteId, columns },
    ]),
  )
}

/** Gone back to the supplier. */
export async function returnCylinder(
  db: Db,
  cylinder: BuiltCylinder,
  { siteId, keeperId }: Readonly<{ siteId: string; keeperId: string }>,
): Promise<void> {
  await playNow(db, (scribe) =>
    writeCylinderEvents(scribe, keeperOf(keeperId), [
      { kind: 'returned', cylinderId: cylinder.id, siteId, columns: {} },
    ]),
  )
}

export type BuiltOutfit = Readonly<{
  id: string
  number: string
  fuel: 'acetylene' | 'propane'
  oxygen: BuiltCylinder
  fuelCylinder: BuiltCylinder
}>

export type OutfitWanted = Readonly<{
  siteId: string
  keeperId: string
  crewId?: string
  fuel?: 'acetylene' | 'propane'
}>

/** An outfit in service with a full cylinder on each side. */
export async function buildOutfit(db: Db, wanted: OutfitWanted): Promise<BuiltOutfit> {
  const { siteId, keeperId } = wanted
  const fuel = wanted.fuel ?? 'acetylene'
  const id = uuidv7()
  const oxygen = await buildCylinder(db, { siteId, keeperId, sizeId: 'oxygen-244' })
  const fuelCylinder = await buildCylinder(db, {
    siteId,
    keeperId,
    sizeId: fuel === 'propane' ? 'propane-100' : 'acetylene-225',
  })
  const outfit: BuiltOutfit = { id, number: `T${id.slice(-8)}`, fuel, oxygen, fuelCylinder }
  await playNow(db, (scribe) => {
    writeSetUp(scribe, 0, 'outfits', {
      id,
      site_id: siteId,
      crew_id: wanted.crewId ?? null,
      number: outfit.number,
      fuel_gas_id: fuel,
    })
    const doing: Doing = { atMs: 0, personId: keeperId, role: 'foreman' }
    const sides = [
      { side: 'oxygen' as const, cylinder: oxygen },
      { side: 'fuel' as const, cylinder: fuelCylinder },
    ]
    for (const { side, cylinder } of sides) {
      const on = { cylinderId: cylinder.id, columns: observedColumns(asDelivered(cylinder.sizeId)) }
      writeSwap(scribe, doing, {
        siteId,
        outfitId: id,
        side,
        jobId: null,
        permitId: null,
        off: null,
        on,
      })
    }
  })
  return outfit
}
