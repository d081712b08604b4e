import { z } from 'zod'
import { CalcError } from '../../lib/calc/errors'

type Answer = { ok: true; outcome: unknown } | { ok: false; message: string }

export type CalcFunction = {
  /** One line for --list. */
  says: string
  /** JSON schema of the input, for --schema. */
  jsonSchema: () => unknown
  /** Checks the form of the input, then calculates. */
  run: (json: unknown) => Answer
}

export type CalcFunctions = Readonly<Record<string, CalcFunction>>

/** A calculation with the schema of its input; zod says what is wrong with the form, calc with a number. */
export function calcFunction<T>(
  says: string,
  schema: z.ZodType<T>,
  calculate: (input: T) => unknown,
): CalcFunction {
  return {
    says,
    jsonSchema: () => z.toJSONSchema(schema, { io: 'input' }),
    run: (json) => {
      const parsed = schema.safeParse(json)
      if (!parsed.success) return { ok: false, message: z.prettifyError(parsed.error) }
      return outcomeOf(() => calculate(parsed.data))
    },
  }
}

/** A number that a function cannot take is the input's fault, not a crash. */
function outcomeOf(calculate: () => unknown): Answer {
  try {
    return { ok: true, outcome: calculate() }
  } catch (error) {
    if (!(error instanceof CalcError)) throw error
    const bound = error.limit === null ? '' : ` (${JSON.stringify(error.limit)})`
    return { ok: false, message: `✖ ${error.message}${bound}\n  → at ${error.field}` }
  }
}
