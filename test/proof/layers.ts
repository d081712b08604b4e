import fc from 'fast-check'
import { evaluate } from '@/lib/rules/evaluate'
import { DECISION_ORDER, type Evaluation } from '@/lib/rules/types'
import { conditions, layer, layers } from '@/test/unit/rules/arbitrary'

export const name = 'Adding a layer never loosens an answer'

const CASES = 200_000
const NEEDS = ['not_applicable', 'yes', 'judgement', 'no']

/** What got looser; empty when nothing did. */
function loosened(less: Evaluation, more: Evaluation): string[] {
  const isNoLonger = (id: string) => !more.precautions.some((precaution) => precaution.id === id)
  const isBlocked = more.decision.startsWith('forbidden')
  const minutes = ['postWatchMin', 'closeEarliestMin', 'finalCheckMin'] as const
  return [
    ...(DECISION_ORDER.indexOf(more.decision) > DECISION_ORDER.indexOf(less.decision)
      ? ['decision']
      : []),
    ...(NEEDS.indexOf(more.required) > NEEDS.indexOf(less.required) ? ['required'] : []),
    ...less.precautions.map((precaution) => precaution.id).filter(isNoLonger),
    ...(isBlocked ? [] : minutes.filter((field) => (more[field] ?? 0) < (less[field] ?? 0))),
    ...(!isBlocked && (more.capHours ?? Infinity) > (less.capHours ?? Infinity)
      ? ['capHours']
      : []),
    ...(!isBlocked && less.statementRequired && !more.statementRequired
      ? ['statementRequired']
      : []),
  ]
}

export async function run() {
  const failures: string[] = []
  const asked = fc.sample(fc.tuple(layers, layer), { numRuns: 2_000, seed: 417 })
  const asking = fc.sample(conditions, { numRuns: CASES / 20, seed: 1916 })
  for (const [index, condition] of asking.entries()) {
    for (let step = 0; step < 20; step += 1) {
      const pair = asked[(index * 20 + step) % asked.length]
      if (!pair) continue
      const [some, extra] = pair
      const less = loosened(evaluate(some, condition), evaluate([...some, extra], condition))
      if (less.length > 0)
        failures.push(`${extra.id}: ${less.join(', ')} for ${JSON.stringify(condition)}`)
    }
  }
  return { cases: asking.length * 20, failures }
}
