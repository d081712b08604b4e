import 'server-only'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { isGasCode } from '@/lib/calc/gas-data'
import { convert, gasFt3FromKg } from '@/lib/calc/units'
import { findingsInForce, type StoreFinding, storeScopes } from '@/lib/rules/finding'
import { type StandingLot, storeAreaFindings } from '@/lib/rules/store-area'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import type { LayerId } from '@/lib/rules/types'
import { db } from './client'

export type StoreLine = StoreFinding & Readonly<{ citation: string; isRead: boolean }>
export type StoreArea = Readonly<{
  /** Null: no area said. */
  id: string | null
  name: string | null
  isIndoors: boolean
  isSprinklered: boolean
  lots: readonly Readonly<{ gasId: string; sizeName: string; status: string; count: number }>[]
  findings: readonly StoreLine[]
}>

type LotRow = Readonly<{
  area_id: string | null
  gas_id: string
  size_name: string
  nominal_kg: number
  status: string
  count: number
}>

function lotOf(row: LotRow): StandingLot {
  return {
    gasId: row.gas_id,
    nominalFt3: isGasCode(row.gas_id) ? gasFt3FromKg(row.gas_id, row.nominal_kg) : 0,
    nominalLb: convert({ value: row.nominal_kg, from: 'kg', to: 'lb' }),
    status: row.status,
    count: row.count,
  }
}

const isTrue = (facts: unknown, name: string) =>
  typeof facts === 'object' && facts !== null && (facts as Record<string, unknown>)[name] === true

/** What stands in each area of a site, beside what the texts in force there allow. */
export async function listStorage(viewer: Viewer, siteId: string): Promise<StoreArea[]> {
  assertCan(viewer, 'cylinder:read', siteId)
  const [areas, rows, rulesets] = await Promise.all([
    db.area.findMany({
      where: { siteId },
      orderBy: { name: 'asc' },
      select: { id: true, name: true, facts: true },
    }),
    db.$queryRaw<LotRow[]>`
      SELECT c.area_id, c.gas_id, z.name AS size_name, z.nominal_kg * c.holds AS nominal_kg, c.status, count(*)::int AS count
      FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id
      WHERE c.site_id = ${siteId}::uuid AND c.status IN ('full', 'partial', 'empty', 'quarantined')
      GROUP BY 1, 2, 3, 4, 5 ORDER BY 2, 3, 5`,
    db.siteRuleset.findMany({ where: { siteId, toAt: null }, select: { rulesetId: true } }),
  ])
  const scopes = storeScopes(rulesets.map((row) => row.rulesetId as LayerId))
  const places = [
    ...areas.map((area) => ({ id: area.id, name: area.name, facts: area.facts as unknown })),
    { id: null, name: null, facts: null },
  ]
  return places.flatMap(({ id, name, facts }) => {
    const own = rows.filter((row) => row.area_id === id)
    if (own.length === 0) return []
    const place = {
      isIndoors: isTrue(facts, 'indoors'),
      isSprinklered: isTrue(facts, 'sprinklers'),
    }
    const found = findingsInForce(storeAreaFindings(place, own.map(lotOf)), scopes)
    return [
      {
        id,
        name,
        ...place,
        lots: own.map((row) => ({
          gasId: row.gas_id,
          sizeName: row.size_name,
          status: row.status,
          count: row.count,
        })),
        findings: found.map((one) => ({
          ...one,
          citation: STORE_RULES[one.ruleId].citation,
          isRead: STORE_RULES[one.ruleId].provenance === 'read',
        })),
      },
    ]
  })
}
