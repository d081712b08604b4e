import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { isFuelCode } from '@/lib/calc/gas-data'
import { HOSE_GRADES } from '@/lib/calc/tables/hoses'
import { convert } from '@/lib/calc/units'
import { AppError } from '@/lib/errors'
import type { AddPartInput, RemovePartInput, SaveOutfitInput } from '@/lib/schemas/outfit'
import { db } from '../client'
import { once } from '../client-keys'
import { nowIn } from '../people-guard'
import { inTransaction, type Tx } from '../tx'

export type OutfitChoices = Readonly<{
  sites: readonly Readonly<{ id: string; name: string }>[]
  crews: readonly Readonly<{ id: string; name: string; siteId: string }>[]
  people: readonly Readonly<{ id: string; name: string; siteIds: readonly string[] }>[]
}>

/** Where an outfit may stand, and to whom it may be given. */
export async function outfitChoices(viewer: Viewer): Promise<OutfitChoices> {
  const siteIds = sitesWhere(viewer, 'outfit:write')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'outfit:write' })
  const here = { siteId: { in: siteIds }, revokedAt: null }
  const [sites, crews, people] = await Promise.all([
    db.site.findMany({
      where: { id: { in: siteIds } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
    db.crew.findMany({
      where: { siteId: { in: siteIds } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true, siteId: true },
    }),
    db.person.findMany({
      where: { disabledAt: null, grants: { some: here } },
      orderBy: { name: 'asc' },
      take: 200,
      select: { id: true, name: true, grants: { where: here, select: { siteId: true } } },
    }),
  ])
  return {
    sites,
    crews,
    people: people.map(({ grants, ...person }) => ({
      ...person,
      siteIds: grants.map((grant) => grant.siteId),
    })),
  }
}

async function assertOfSite(tx: Tx, { siteId, crewId, holderId }: SaveOutfitInput): Promise<void> {
  const crew = crewId === null ? 1 : await tx.crew.count({ where: { id: crewId, siteId } })
  const holder =
    holderId === null
      ? 1
      : await tx.grant.count({ where: { personId: holderId, siteId, revokedAt: null } })
  if (crew === 0 || holder === 0) throw new AppError('NOT_FOUND')
}

/** A new outfit, or another number, place, crew or holder of one. The fuel it burns stays what it is. */
export async function saveOutfit(viewer: Viewer, input: SaveOutfitInput): Promise<{ id: string }> {
  assertCan(viewer, 'outfit:write', input.siteId)
  const { outfitId, siteId, number, fuel, crewId, holderId, rentedFrom } = input
  if (outfitId !== null) {
    const kept = await db.outfit.findUnique({ where: { id: outfitId }, select: { siteId: true } })
    if (!kept) throw new AppError('NOT_FOUND')
    assertCan(viewer, 'outfit:write', kept.siteId)
  }
  return inTransaction(viewer, 'outfit:save', (tx) =>
    once(tx, viewer, { key: input.key, action: 'outfit:save', input }, async () => {
      await assertOfSite(tx, input)
      const { oxygenPlaces, fuelPlaces } = input
      const data = { siteId, number, crewId, holderId, rentedFrom, oxygenPlaces, fuelPlaces }
      const id = outfitId ?? uuidv7()
      if (outfitId === null)
        await tx.outfit.create({ select: { id: true }, data: { id, ...data, fuelGasId: fuel } })
      else await tx.outfit.update({ where: { id }, data, select: { id: true } })
      return { id }
    }),
  )
}

async function writtenOutfit(viewer: Viewer, outfitId: string) {
  const outfit = await db.outfit.findUnique({
    where: { id: outfitId },
    select: { siteId: true, fuelGasId: true },
  })
  if (!outfit) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'outfit:write', outfit.siteId)
  return outfit
}

const metres = (value: number | undefined, from: 'ft' | 'in') =>
  value === undefined ? null : convert({ value, from, to: 'm' })

/** A part goes on. A fuel hose of a grade that is not for this fuel does not. */
export async function addPart(viewer: Viewer, input: AddPartInput): Promise<{ id: string }> {
  const { fuelGasId } = await writtenOutfit(viewer, input.outfitId)
  const { kind, hoseGrade } = input
  const isFit =
    kind !== 'hose_fuel' ||
    (hoseGrade !== undefined && isFuelCode(fuelGasId) && HOSE_GRADES[hoseGrade].includes(fuelGasId))
  if (!isFit) throw new AppError('HOSE_NOT_FOR_FUEL', { grade: hoseGrade ?? '', fuel: fuelGasId })
  return inTransaction(viewer, 'outfit:part-on', (tx) =>
    once(tx, viewer, { key: input.key, action: 'outfit:part-on', input }, async () => {
      const id = uuidv7()
      const { outfitId, name, serial } = input
      await tx.outfitPart.create({
        select: { id: true },
        data: {
          ...{ id, outfitId, kind, name, serial },
          hoseGrade: hoseGrade ?? null,
          lengthM: metres(input.lengthFt, 'ft'),
          boreM: metres(input.boreIn, 'in'),
          orificeM: metres(input.orificeIn, 'in'),
        },
      })
      return { id }
    }),
  )
}

export async function removePart(viewer: Viewer, input: RemovePartInput): Promise<{ id: string }> {
  const part = await db.outfitPart.findUnique({
    where: { id: input.partId },
    select: { outfitId: true },
  })
  if (!part) throw new AppError('NOT_FOUND')
  await writtenOutfit(viewer, part.outfitId)
  return inTransaction(viewer, 'outfit:part-off', (tx) =>
    once(tx, viewer, { key: input.key, action: 'outfit:part-off', input }, async () => {
      const { count } = await tx.outfitPart.updateMany({
        where: { id: input.partId, removedAt: null },
        data: { removedAt: await nowIn(tx) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.partId }
    }),
  )
}
