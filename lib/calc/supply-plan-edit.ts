import type { SupplyPlan } from './supply-plan-types'

/** What one line of a plan is: an order, a trip or a return of one day. */
export type PlanItem =
  | (Readonly<{ kind: 'order' }> & SupplyPlan['orders'][number])
  | (Readonly<{ kind: 'move' }> & SupplyPlan['moves'][number])
  | (Readonly<{ kind: 'return' }> & SupplyPlan['returns'][number])

/** A name for a line that stays while the plan does: what, where, when. */
export function itemKey(item: PlanItem): string {
  if (item.kind === 'move') return `move.${item.day}.${item.routeId}`
  if (item.kind === 'order') return `order.${item.day}.${item.siteId}.${item.supplierId}`
  return `return.${item.day}.${item.siteId}`
}

/** All lines of a plan, by day; on one day trips first, then trucks, then what they take along. */
export function planItems(plan: SupplyPlan): PlanItem[] {
  return [
    ...plan.moves.map((move) => ({ kind: 'move' as const, ...move })),
    ...plan.orders.map((order) => ({ kind: 'order' as const, ...order })),
    ...plan.returns.map((back) => ({ kind: 'return' as const, ...back })),
  ].sort((a, b) => a.day - b.day)
}

/** A change somebody makes: another number of one size on a line, or the whole line left out. */
export type PlanChange = Readonly<{ key: string; sizeId: string | null; quantity: number }>

const itemsToPlan = (items: readonly PlanItem[]): SupplyPlan => ({
  orders: items.flatMap((item) => {
    if (item.kind !== 'order') return []
    const { kind, ...order } = item
    return [order]
  }),
  moves: items.flatMap((item) => {
    if (item.kind !== 'move') return []
    const { kind, ...move } = item
    return [move]
  }),
  returns: items.flatMap((item) => {
    if (item.kind !== 'return') return []
    const { kind, ...back } = item
    return [back]
  }),
})

/** The plan without one line. Where no truck comes any more, nothing goes back with it. */
export function planWithout(plan: SupplyPlan, key: string): SupplyPlan {
  const left = itemsToPlan(planItems(plan).filter((item) => itemKey(item) !== key))
  const returns = left.returns.filter((back) =>
    left.orders.some((order) => order.siteId === back.siteId && order.day === back.day),
  )
  return { ...left, returns }
}

function withQuantity(plan: SupplyPlan, { key, sizeId, quantity }: PlanChange): SupplyPlan {
  const items = planItems(plan).map((item) =>
    itemKey(item) === key
      ? {
          ...item,
          lines: item.lines
            .map((line) => (line.sizeId === sizeId ? { ...line, quantity } : line))
            .filter((line) => line.quantity > 0),
        }
      : item,
  )
  const emptied = items.find((item) => itemKey(item) === key && item.lines.length === 0)
  return emptied ? planWithout(plan, key) : itemsToPlan(items)
}

/**
 * The plan with what somebody changed on it; everything else stays.
 *
 * @param plan as it was proposed
 * @param changes by line: another number of one size, or without a size the whole line left out; a line or
 *   size that is not there changes nothing
 * @returns the changed plan; it may break limits, which `brokenLimits` says
 */
export function changedPlan(plan: SupplyPlan, changes: readonly PlanChange[]): SupplyPlan {
  return changes.reduce(
    (now, change) =>
      change.sizeId === null ? planWithout(now, change.key) : withQuantity(now, change),
    plan,
  )
}
