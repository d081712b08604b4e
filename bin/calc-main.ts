import { z } from 'zod'
import { auditJob } from '../lib/calc/audit'
import { contentsFromReading } from '../lib/calc/contents'
import { estimateCutList } from '../lib/calc/estimate'
import { forecastSite } from '../lib/calc/forecast'
import { withdrawal } from '../lib/calc/withdrawal'
import {
  auditInputSchema,
  contentsInputSchema,
  estimateInputSchema,
  forecastInputSchema,
  withdrawalInputSchema,
} from '../lib/schemas/calc-input'

type Answer = { ok: true; outcome: unknown } | { ok: false; message: string }

/** Checks the form of the input, then calculates. */
function calculation<T>(schema: z.ZodType<T>, calculate: (input: T) => unknown) {
  return (json: unknown): Answer => {
    const parsed = schema.safeParse(json)
    if (!parsed.success) return { ok: false, message: z.prettifyError(parsed.error) }
    return { ok: true, outcome: calculate(parsed.data) }
  }
}

const CALCULATIONS: Readonly<Record<string, (json: unknown) => Answer>> = {
  estimate: calculation(estimateInputSchema, estimateCutList),
  contents: calculation(contentsInputSchema, ({ reading, size }) =>
    contentsFromReading(reading, size),
  ),
  withdrawal: calculation(withdrawalInputSchema, withdrawal),
  audit: calculation(auditInputSchema, auditJob),
  forecast: calculation(forecastInputSchema, forecastSite),
}

const USAGE = `Usage: bin/calc ${Object.keys(CALCULATIONS).join('|')} < input.json
Prints the answer as JSON. A calculation that refuses prints { "ok": false, "refusals": [...] } and exits 0.
Input that is not of the right form exits 2 and says what is wrong.
`

type Run = {
  args: string[]
  input: AsyncIterable<Buffer | string>
  out: (text: string) => void
  err: (text: string) => void
}

/** Runs one calculation; returns the exit code. */
export async function runCalc({ args, input, out, err }: Run): Promise<number> {
  const [name = ''] = args
  const calculate = Object.hasOwn(CALCULATIONS, name) ? CALCULATIONS[name] : undefined
  if (!calculate || args.length !== 1) {
    err(USAGE)
    return 2
  }
  const chunks: Buffer[] = []
  for await (const chunk of input) chunks.push(Buffer.from(chunk))
  const answer = parseAndRun(Buffer.concat(chunks).toString('utf8'), calculate)
  if (!answer.ok) {
    err(`${answer.message}\n`)
    return 2
  }
  out(`${JSON.stringify(answer.outcome, null, 2)}\n`)
  return 0
}

function parseAndRun(text: string, calculate: (json: unknown) => Answer): Answer {
  const json = parseJson(text)
  return json.ok ? calculate(json.value) : json
}

function parseJson(text: string): { ok: true; value: unknown } | { ok: false; message: string } {
  try {
    return { ok: true, value: JSON.parse(text) }
  } catch (error) {
    return { ok: false, message: `✖ The input is not JSON: ${(error as Error).message}` }
  }
}
