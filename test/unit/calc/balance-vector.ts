import file from '../../vectors/calc/balance.json'

/** Inputs and answers of a vector, as loose as JSON: each test names the fields that it reads. */
type Vector = { inputs: Record<string, unknown>; expected: Record<string, unknown> }

/** One published vector of balances, factors or charts, its source beside it in the file. */
export function balanceVector<I, E>(id: string): { inputs: I; expected: E } {
  const vector: Vector | undefined = file.vectors.find((candidate) => candidate.id === id)
  if (!vector) throw new Error(`no vector ${id}`)
  return vector as { inputs: I; expected: E }
}

/** Ratios and weights of five groups over twelve quarters. */
export const HACHEMEISTER = file.datasets['hachemeister-ratios-weights'].rows.map((row) => ({
  group: String(row[0]),
  ratio: row[2] ?? Number.NaN,
  weight: row[3] ?? Number.NaN,
}))

/** Hits in 45 at bats, and the average over the rest of the season, of eighteen players. */
export const BATTING = file.datasets['efron-morris-batting'].rows.map((row) => ({
  hits: row[0] ?? Number.NaN,
  later: row[1] ?? Number.NaN,
}))
