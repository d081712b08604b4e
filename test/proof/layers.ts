import fc from 'fast-check'
import { loosened } from '@/lib/rules/compare'
import { evaluate } from '@/lib/rules/evaluate'
import { conditions, layer, layers } from '@/test/unit/rules/arbitrary'

export const name = 'Adding a layer never loosens an answer'

const CASES = 200_000
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
