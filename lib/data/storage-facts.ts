import 'server-only'
import { isGasCode } from '@/lib/calc/gas-data'
import { convert, gasFt3FromKg } from '@/lib/calc/units'
import { type StoreFinding, storeScopes } from '@/lib/rules/finding'
import { ANSWER_DAYS, type StoreAnswers } from '@/lib/rules/store-answers'
import type { StandingLot, StoreAreaFacts } from '@/lib/rules/store-area'
import { STORE_RULES, type StoreScope } from '@/lib/rules/store-catalogue'
import type { LayerId } from '@/lib/rules/types'
import type { Tx } from './tx'

export type LotRow = Readonly<{
  area_id: string | null
  gas_id: string
  size_name: string
  nominal_kg: number
  status: string
  count: number
}>

/** Cylinders of a size and state that stand somewhere, as the rules count them. */
export function lotOf(row: Omit<LotRow, 'area_id' | 'size_name'>): StandingLot {
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

export const areaFactsOf = (facts: unknown): StoreAreaFacts => ({
  isIndoors: isTrue(facts, 'indoors'),
  isSprinklered: isTrue(facts, 'sprinklers'),
})

/** The texts in force at a site. */
export async function storeScopesAt(client: Tx, siteId: string): Promise<ReadonlySet<StoreScope>> {
  const rows = await client.siteRuleset.findMany({
    where: { siteId, toAt: null },
    select: { rulesetId: true },
  })
  return storeScopes(rows.map((row) => row.rulesetId as LayerId))
}

export type AnswersAt = Readonly<{
  areaId: string
  answers: StoreAnswers
  at: Date
  personName: string
  /** Old, or given of the area as it was before: to be asked again. */
  isStale: boolean
}>

/** The last answers of each area of a site, and whether they still count. */
export function readAnswers(client: Tx, siteId: string): Promise<AnswersAt[]> {
  return client.$queryRaw<AnswersAt[]>`
    SELECT DISTINCT ON (s.area_id) s.area_id AS "areaId", s.answers, s.at, p.name AS "personName",
           (s.facts <> coalesce(a.facts, '{}') OR s.at < kerf_now() - make_interval(days => ${ANSWER_DAYS}::int)) AS "isStale"
    FROM storage_answers s JOIN areas a ON a.id = s.area_id JOIN people p ON p.id = s.person_id
    WHERE a.site_id = ${siteId}::uuid ORDER BY s.area_id, s.at DESC, s.id DESC`
}

/** What counts of an area's answers: nothing once they are to be asked again. */
export const countingAnswers = (
  all: readonly AnswersAt[],
  areaId: string | null,
): StoreAnswers | null => {
  const own = all.find((one) => one.areaId === areaId)
  return own && !own.isStale ? own.answers : null
}

export const citationOf = ({ ruleId }: StoreFinding): string => STORE_RULES[ruleId].citation
