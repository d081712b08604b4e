import type { CalcFunction } from './calc-functions/calc-function'
import { CALC_FUNCTIONS } from './calc-functions/registry'

const USAGE = `Usage: bin/calc NAME < input.json    prints the answer as JSON
       bin/calc --list               prints every NAME with what it does
       bin/calc --schema NAME        prints the JSON schema of its input
A calculation that refuses prints { "ok": false, "refusals": [...] } and exits 0.
Input that is not of the right form exits 2 and says what is wrong.
Names: ${Object.keys(CALC_FUNCTIONS).join(' ')}
`

type Run = {
  args: string[]
  input: AsyncIterable<Buffer | string>
  out: (text: string) => void
  err: (text: string) => void
}

/** Runs one calculation, or says what there is; returns the exit code. */
export async function runCalc({ args, input, out, err }: Run): Promise<number> {
  const [first = '', second = ''] = args
  if (first === '--list' && args.length === 1) {
    out(list())
    return 0
  }
  const isSchema = first === '--schema' && args.length === 2
  const found = functionNamed(isSchema ? second : first)
  if (!found || (!isSchema && args.length !== 1)) {
    err(USAGE)
    return 2
  }
  if (isSchema) {
    out(`${JSON.stringify(found.jsonSchema(), null, 2)}\n`)
    return 0
  }
  const answer = parseAndRun(await readAll(input), found)
  if (!answer.ok) {
    err(`${answer.message}\n`)
    return 2
  }
  out(`${JSON.stringify(answer.outcome, null, 2)}\n`)
  return 0
}

function functionNamed(name: string): CalcFunction | undefined {
  return Object.hasOwn(CALC_FUNCTIONS, name) ? CALC_FUNCTIONS[name] : undefined
}

function list(): string {
  const width = Math.max(...Object.keys(CALC_FUNCTIONS).map((name) => name.length))
  return Object.entries(CALC_FUNCTIONS)
    .map(([name, { says }]) => `${name.padEnd(width)}  ${says}\n`)
    .join('')
}

async function readAll(input: AsyncIterable<Buffer | string>): Promise<string> {
  const chunks: Buffer[] = []
  for await (const chunk of input) chunks.push(Buffer.from(chunk))
  return Buffer.concat(chunks).toString('utf8')
}

function parseAndRun(text: string, found: CalcFunction): ReturnType<CalcFunction['run']> {
  const json = parseJson(text)
  return json.ok ? found.run(json.value) : json
}

function parseJson(text: string): { ok: true; value: unknown } | { ok: false; message: string } {
  try {
    return { ok: true, value: JSON.parse(text) }
  } catch (error) {
    return { ok: false, message: `✖ The input is not JSON: ${(error as Error).message}` }
  }
}
