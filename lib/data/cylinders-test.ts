import 'server-only'
import type { RequalificationReason } from '@/lib/rules/requalification'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import { type Plate, requalificationOf } from '@/lib/rules/test-due'
import type { Condition } from './cylinders-shown'

export type TestState = Readonly<{
  due: string | null
  shellDue: string | null
  fillerEarliest: string | null
  fillerLatest: string | null
  mayFill: boolean
  mayUseContents: boolean
  reasons: readonly RequalificationReason[]
  /** The record has a later month than the text allows for this test. */
  isRecordLater: boolean
  sources: readonly Readonly<{ id: string; citation: string; isRead: boolean }>[]
}>

type Kept = Readonly<{
  spec: string
  gasId: string
  vessel: string
  madeMonth: Date | null
  testMethod: string | null
  isStarred: boolean
  requalifiedOn: Date | null
  dueMonth: Date | null
  filledOn: Date | null
  serviceLifeEnds: Date | null
  condition: Condition
}>

const month = (date: Date | null) => date?.toISOString().slice(0, 7) ?? null

export function plateOf(
  row: Omit<Kept, 'requalifiedOn' | 'dueMonth' | 'filledOn' | 'serviceLifeEnds' | 'condition'>,
): Plate {
  const { testMethod: method } = row
  return {
    spec: row.spec,
    gasId: row.gasId,
    vessel: row.vessel,
    madeMonth: month(row.madeMonth),
    method: method === 'volumetric' || method === 'proof' || method === 'visual' ? method : null,
    isStarred: row.isStarred,
  }
}

/** When it is due by its specification, and what may be done with it; null for a plate nobody can place. */
export function testStateOf(row: Kept, today: string): TestState | null {
  const found = requalificationOf(plateOf(row), {
    last: month(row.requalifiedOn),
    filled: month(row.filledOn),
    today,
    condition: row.condition,
    serviceLifeEnds: row.serviceLifeEnds?.toISOString().slice(0, 10) ?? null,
  })
  if (!found) return null
  const { due, shellDue, fillerEarliest, fillerLatest, mayFill, mayUseContents, reasons } = found
  const kept = month(row.dueMonth)
  const latest = shellDue ?? due
  return {
    due,
    shellDue,
    fillerEarliest,
    fillerLatest,
    mayFill,
    mayUseContents,
    reasons,
    isRecordLater: kept !== null && latest !== null && kept > latest,
    sources: found.ruleIds.map((id) => ({
      id,
      citation: STORE_RULES[id].citation,
      isRead: STORE_RULES[id].provenance === 'read',
    })),
  }
}
