import type { CutCondition, CutInput, Position } from '@/lib/calc/estimate-types'
import { JUDGEMENTS, type JudgementKey, judgedWith } from '@/lib/calc/judgements'

type JudgedCode = Exclude<Position, 'flat'> | CutCondition

/** A judged multiplier that some cut of a list is slowed by. */
export type JudgedIn = Readonly<{ code: JudgedCode; multiplier: number; isChanged: boolean }>

const ORDER: readonly JudgedCode[] = [
  'horizontal',
  'vertical',
  'overhead',
  'awkward',
  'dirty',
  'painted',
  'cold',
  'wind',
]

/** Every judged multiplier that is in a list's numbers, once each. */
export function judgedIn(
  cuts: readonly CutInput[],
  changed: Partial<Record<JudgementKey, number>> = {},
): readonly JudgedIn[] {
  const judged = judgedWith(changed)
  const found = new Set<string>()
  for (const { position, conditions } of cuts) {
    if (position !== undefined) found.add(position)
    if (conditions !== undefined) for (const condition of conditions) found.add(condition)
  }
  return ORDER.filter((code) => found.has(code)).map((code) => ({
    code,
    multiplier: judged[code],
    isChanged: judged[code] !== JUDGEMENTS[code].usual,
  }))
}
