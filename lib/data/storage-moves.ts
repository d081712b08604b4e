import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError, type Reason } from '@/lib/errors'
import type { StoreFinding } from '@/lib/rules/finding'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import { judgeMove } from '@/lib/rules/store-move'
import {
  areaFactsOf,
  citationOf,
  countingAnswers,
  type LotRow,
  lotOf,
  readAnswers,
  storeScopesAt,
} from './storage-facts'
import type { Tx } from './tx'

export type Brought = Readonly<{
  siteId: string
  /** Null: no area said, and no area's limits to hold. */
  areaId: string | null
  /** Known cylinders; their size and what pack they are is on record. */
  cylinderIds?: readonly string[]
  /** Cylinders that are not on record yet, by size. */
  sizes?: readonly Readonly<{ sizeId: string; holds: number }>[]
  /** What it will stand there as; fulls and empties count alike. */
  isConfirmed: boolean
  role: string
}>

const LOCK_SPACE = 417

/** Two people who bring the last cylinder that fits, bring it one after the other. */
const lockArea = (tx: Tx, areaId: string) =>
  tx.$queryRaw`SELECT pg_advisory_xact_lock(${LOCK_SPACE}::int, hashtext(${areaId}))::text`

function readStanding(tx: Tx, areaId: string, but: readonly string[]) {
  return tx.$queryRaw<LotRow[]>`
    SELECT c.area_id, c.gas_id, z.name AS size_name, z.nominal_kg * c.holds AS nominal_kg, c.status, count(*)::int AS count
    FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id JOIN areas a ON a.id = ${areaId}::uuid
    WHERE c.site_id = a.site_id AND c.area_id = a.id AND c.status IN ('full', 'partial', 'empty', 'quarantined')
      AND NOT c.id = ANY(${[...but]}::uuid[])
    GROUP BY 1, 2, 3, 4, 5`
}

async function readBrought(tx: Tx, { cylinderIds = [], sizes = [] }: Brought) {
  const known =
    cylinderIds.length === 0
      ? []
      : await tx.$queryRaw<LotRow[]>`
          SELECT NULL AS area_id, c.gas_id, z.name AS size_name, z.nominal_kg * c.holds AS nominal_kg, 'full' AS status, count(*)::int AS count
          FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id WHERE c.id = ANY(${[...cylinderIds]}::uuid[])
          GROUP BY 2, 3, 4`
  const rows =
    sizes.length === 0
      ? []
      : await tx.cylinderSize.findMany({
          where: { id: { in: sizes.map((one) => one.sizeId) } },
          select: { id: true, gasId: true, name: true, nominalKg: true },
        })
  const fresh = sizes.flatMap(({ sizeId, holds }): LotRow[] => {
    const size = rows.find((row) => row.id === sizeId)
    if (!size) return []
    const { gasId: gas_id, name: size_name, nominalKg } = size
    return [
      { area_id: null, gas_id, size_name, nominal_kg: nominalKg * holds, status: 'full', count: 1 },
    ]
  })
  return [...known, ...fresh].map(lotOf)
}

const TENTHS = 10
const shown = (value: number | string) =>
  typeof value === 'number' ? Math.round(value * TENTHS) / TENTHS : value

/** What a move is refused or asked about with, by the point it breaks. */
const CODES: Readonly<Record<string, string>> = {
  control_area: 'STORE_CONTROL_AREA',
  operational_permit: 'STORE_OPERATIONAL_PERMIT',
  separate_room: 'STORE_SEPARATE_ROOM',
  lpg_indoors: 'STORE_LPG_INDOORS',
  separation: 'STORE_SEPARATION',
  indoor_place: 'STORE_INDOOR_PLACE',
  indoor_combustibles: 'STORE_INDOOR_COMBUSTIBLES',
  vegetation: 'STORE_VEGETATION',
  no_smoking: 'STORE_NO_SMOKING',
  temperature: 'STORE_TEMPERATURE',
  lpg_building: 'STORE_LPG_BUILDING',
  lpg_by_table: 'STORE_LPG_BY_TABLE',
  lpg_outdoors: 'STORE_LPG_OUTDOORS',
  lpg_extinguisher: 'STORE_LPG_EXTINGUISHER',
}

function reasonOf(one: StoreFinding, area: string): Reason {
  const numbers = Object.fromEntries(
    Object.entries(one.params).map(([name, value]) => [name, shown(value)]),
  )
  const isRead = STORE_RULES[one.ruleId].provenance === 'read' ? 'yes' : 'no'
  return {
    code: CODES[one.code] ?? one.code,
    params: { ...numbers, area, citation: citationOf(one), isRead },
  }
}

/**
 * Cylinders are brought to an area, in the transaction that records it: refused past a limit that holds,
 * asked about past one that warns. What was confirmed is kept with who confirmed it.
 */
export async function guardStorage(tx: Tx, viewer: Viewer, brought: Brought): Promise<void> {
  const { areaId, siteId, cylinderIds = [] } = brought
  if (areaId === null) return
  // An area of another site is refused with the event itself.
  const area = await tx.area.findFirst({
    where: { id: areaId, siteId },
    select: { name: true, facts: true },
  })
  if (!area) return
  await lockArea(tx, areaId)
  const standing = await readStanding(tx, areaId, cylinderIds)
  const { refused, warned } = judgeMove({
    facts: areaFactsOf(area.facts),
    answers: countingAnswers(await readAnswers(tx, siteId), areaId),
    standing: standing.map(lotOf),
    brought: await readBrought(tx, brought),
    scopes: await storeScopesAt(tx, siteId),
  })
  const words = (findings: readonly StoreFinding[]) =>
    findings.map((one) => reasonOf(one, area.name))
  if (refused.length > 0)
    throw new AppError('STORAGE_REFUSED', { area: area.name }, words([...refused, ...warned]))
  if (warned.length === 0) return
  if (!brought.isConfirmed) throw new AppError('STORAGE_ASKS', { area: area.name }, words(warned))
  await tx.storageConfirmation.create({
    data: {
      id: uuidv7(),
      siteId,
      areaId,
      cylinderIds: [...cylinderIds],
      findings: warned.map(({ ruleId, code, params }) => ({ ruleId, code, params })),
      personId: viewer.personId,
      roleThen: brought.role,
    },
    select: { id: true },
  })
}
