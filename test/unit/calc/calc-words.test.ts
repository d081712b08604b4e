import { describe, expect, test } from 'vitest'
import { CALC_FUNCTIONS } from '@/bin/calc-functions/registry'
import messages from '@/messages/en.json'
import { CALC_INPUTS } from './bin-calc-inputs'

type Found = { formulas: Set<string>; names: Set<string> }

/** Every formula, input and term that an answer names. */
function walk(value: unknown, found: Found): void {
  if (Array.isArray(value)) for (const one of value) walk(one, found)
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return
  const known = value as { formulaCode?: unknown; inputs?: unknown; chain?: unknown }
  if (typeof known.formulaCode === 'string') {
    found.formulas.add(known.formulaCode)
    for (const { name } of known.inputs as { name: string }[]) found.names.add(name)
  }
  if (Array.isArray(known.chain))
    for (const { code } of known.chain as { code: string }[]) found.names.add(code)
  for (const one of Object.values(value)) walk(one, found)
}

function foundInAnswers(): Found {
  const found: Found = { formulas: new Set(), names: new Set() }
  for (const [name, [input]] of Object.entries(CALC_INPUTS)) {
    const answer = CALC_FUNCTIONS[name]?.run(input)
    if (answer?.ok) walk(answer.outcome, found)
  }
  return found
}

describe('what the gas calculations name has words', () => {
  const { formulas, names } = foundInAnswers()

  test('every formula says in a sentence what it does', () => {
    expect(formulas.size).toBeGreaterThan(40)
    const words: Record<string, string> = messages.calcWords.formula
    expect([...formulas].filter((code) => !words[code]?.endsWith('.'))).toEqual([])
  })

  test('every input and term has a name', () => {
    expect(names.size).toBeGreaterThan(70)
    const words: Record<string, string> = messages.calcWords.input
    expect([...names].filter((code) => !words[code])).toEqual([])
  })
})
