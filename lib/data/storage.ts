import 'server-only'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { findingsInForce, type StoreFinding } from '@/lib/rules/finding'
import { storeAreaFindings } from '@/lib/rules/store-area'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import { db } from './client'
import {
  type AnswersAt,
  areaFactsOf,
  citationOf,
  countingAnswers,
  type LotRow,
  lotOf,
  readAnswers,
  storeScopesAt,
} from './storage-facts'

export type StoreLine = StoreFinding & Readonly<{ citation: string; isRead: boolean }>
export type StoreArea = Readonly<{
  /** Null: no area said. */
  id: string | null
  name: string | null
  isIndoors: boolean
  isSprinklered: boolean
  lots: readonly Readonly<{ gasId: string; sizeName: string; status: string; count: number }>[]
  findings: readonly StoreLine[]
  /** The last answers about the place; null where nobody was asked. */
  answers: Readonly<{ at: Date; personName: string; isStale: boolean }> | null
}>

export type StoragePage = Readonly<{ areas: readonly StoreArea[]; mayAnswer: boolean }>

/** What stands in each area of a site, beside what the texts in force there allow. */
export async function listStorage(viewer: Viewer, siteId: string): Promise<StoragePage> {
  assertCan(viewer, 'cylinder:read', siteId)
  const [areas, rows, scopes, answers] = await Promise.all([
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
    storeScopesAt(db, siteId),
    readAnswers(db, siteId),
  ])
  const places = [
    ...areas.map((area) => ({ id: area.id, name: area.name, facts: area.facts as unknown })),
    { id: null, name: null, facts: null },
  ]
  const shown = places.flatMap((place) => {
    const own = rows.filter((row) => row.area_id === place.id)
    const last = answers.find((one) => one.areaId === place.id)
    if (own.length === 0 && !last) return []
    const facts = areaFactsOf(place.facts)
    const counting = countingAnswers(answers, place.id)
    const found = findingsInForce(storeAreaFindings(facts, own.map(lotOf), counting), scopes)
    return [
      {
        ...place,
        ...facts,
        lots: own.map(shownLot),
        findings: found.map(lineOf),
        answers: answeredOf(last),
      },
    ]
  })
  return { areas: shown, mayAnswer: can(viewer, 'cylinder:move', siteId) }
}

const shownLot = (row: LotRow) => ({
  gasId: row.gas_id,
  sizeName: row.size_name,
  status: row.status,
  count: row.count,
})

const lineOf = (one: StoreFinding): StoreLine => ({
  ...one,
  citation: citationOf(one),
  isRead: STORE_RULES[one.ruleId].provenance === 'read',
})

const answeredOf = (last: AnswersAt | undefined): StoreArea['answers'] =>
  last ? { at: last.at, personName: last.personName, isStale: last.isStale } : null

/** The areas of a site, where cylinders may be put down. */
export async function storeAreas(
  viewer: Viewer,
  siteId: string,
): Promise<Readonly<{ id: string; name: string }>[]> {
  assertCan(viewer, 'cylinder:read', siteId)
  return db.area.findMany({
    where: { siteId },
    orderBy: { name: 'asc' },
    select: { id: true, name: true },
  })
}
