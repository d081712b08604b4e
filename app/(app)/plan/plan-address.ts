import type { PlanChange } from '@/lib/calc/supply-plan-edit'
import { changesText, type PlanAsk } from '@/lib/schemas/plan'

/** What a plan was asked, as an address's words; what is as usual is left out. */
export function planQuery(ask: PlanAsk): string {
  const words = {
    late: ask.late > 0 ? String(ask.late) : '',
    truck: ask.hasTruck ? '' : 'no',
    addSite: ask.addCylinders > 0 ? (ask.addSite ?? '') : '',
    addGas: ask.addCylinders > 0 ? (ask.addGas ?? '') : '',
    addCylinders: ask.addCylinders > 0 ? String(ask.addCylinders) : '',
    site: ask.site ?? '',
    gas: ask.gas ?? '',
    size: ask.size ?? '',
    change: changesText(ask.changes),
  }
  return new URLSearchParams(Object.entries(words).filter(([, word]) => word !== '')).toString()
}

/** The same page with something asked otherwise. */
export function planHref(ask: PlanAsk, change: Partial<PlanAsk>): string {
  const query = planQuery({ ...ask, ...change })
  return query === '' ? '/plan' : `/plan?${query}`
}

/** The changes with one more; another of the same line and size takes its place. */
export function withChange(
  changes: readonly PlanChange[],
  change: PlanChange,
): readonly PlanChange[] {
  const others = changes.filter(
    (one) => one.key !== change.key || (one.sizeId !== change.sizeId && change.sizeId !== null),
  )
  return [...others, change]
}
