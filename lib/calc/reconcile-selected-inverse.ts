import type { TransferMatrix } from './reconcile-types'

/** Entries of the factor beyond which the inverse is left out, by job: a graph that fills up is no longer sparse. */
const MOST_ENTRIES_BY_JOB = 60

type Column = { job: number; pivot: number; rows: Int32Array; ratios: Float64Array }

/**
 * The entries of S⁻¹ on the pattern of its sparse factor: the diagonal and every pair of jobs that hand
 * cylinders over.
 *
 * @param matrix S
 * @returns one entry, NaN where it lies outside the pattern; null where the factor fills up
 * @source sparse LDLᵀ in the order of least degree; Takahashi's recursion for the inverse (from memory)
 */
export function selectedInverse(
  matrix: TransferMatrix,
): ((row: number, column: number) => number) | null {
  const columns = eliminate(matrix)
  if (!columns) return null
  const rows = Array.from({ length: matrix.size }, () => new Map<number, number>())
  const entry = (i: number, j: number) => rows[i]?.get(j) ?? rows[j]?.get(i)
  for (let n = columns.length - 1; n >= 0; n -= 1) {
    const { job, pivot, rows: others, ratios } = columns[n] as Column
    const own = rows[job] as Map<number, number>
    let diagonal = 1 / pivot
    for (let p = 0; p < others.length; p += 1) {
      let sum = 0
      for (let q = 0; q < others.length; q += 1)
        sum += (ratios[q] as number) * (entry(others[p] as number, others[q] as number) as number)
      own.set(others[p] as number, sum)
      diagonal += (ratios[p] as number) * sum
    }
    own.set(job, diagonal)
  }
  return (i, j) => entry(i, j) ?? Number.NaN
}

/** Takes the job with fewest neighbours out, joins those, and so on; null where that fills up. */
function eliminate(matrix: TransferMatrix): Column[] | null {
  const { size, diagonal, starts, neighbours, weights } = matrix
  const pivots = Float64Array.from(diagonal)
  const graph = Array.from({ length: size }, (_, j) => {
    const row = new Map<number, number>()
    for (let p = starts[j] as number; p < (starts[j + 1] as number); p += 1)
      row.set(neighbours[p] as number, weights[p] as number)
    return row
  })
  const queue = degreeQueue(graph)
  const columns: Column[] = []
  let entries = 0
  for (let job = queue.take(); job !== null; job = queue.take()) {
    const row = graph[job] as Map<number, number>
    const rows = Int32Array.from(row.keys())
    const pivot = pivots[job] as number
    const ratios = Float64Array.from(row.values(), (weight) => weight / pivot)
    entries += rows.length + 1
    if (entries > MOST_ENTRIES_BY_JOB * size) return null
    columns.push({ job, pivot, rows, ratios })
    for (let p = 0; p < rows.length; p += 1)
      joinOthers(graph, pivots, { job, pivot, rows, ratios }, p)
    for (const k of rows) queue.changed(k)
  }
  return columns
}

/** What remains between the neighbours of a job once it is gone. */
function joinOthers(
  graph: Map<number, number>[],
  pivots: Float64Array,
  { job, pivot, rows, ratios }: Column,
  p: number,
): void {
  const k = rows[p] as number
  const weight = (ratios[p] as number) * pivot
  pivots[k] = (pivots[k] as number) - (ratios[p] as number) * weight
  const row = graph[k] as Map<number, number>
  row.delete(job)
  for (let q = 0; q < rows.length; q += 1) {
    if (q === p) continue
    const l = rows[q] as number
    row.set(l, (row.get(l) ?? 0) + (ratios[q] as number) * weight)
  }
}

/** Jobs by number of neighbours; of several with as few, the one that was put in last. */
function degreeQueue(graph: readonly Map<number, number>[]) {
  const buckets: number[][] = []
  const isDone = new Uint8Array(graph.length)
  let least = 0
  const put = (job: number) => {
    const degree = graph[job]?.size ?? 0
    while (buckets.length <= degree) buckets.push([])
    buckets[degree]?.push(job)
    least = Math.min(least, degree)
  }
  for (let job = graph.length - 1; job >= 0; job -= 1) put(job)
  return {
    changed: put,
    take: (): number | null => {
      for (; least < buckets.length; least += 1) {
        for (let job = buckets[least]?.pop(); job !== undefined; job = buckets[least]?.pop()) {
          if (isDone[job] || graph[job]?.size !== least) continue
          isDone[job] = 1
          return job
        }
      }
      return null
    },
  }
}
