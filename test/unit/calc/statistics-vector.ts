import file from '../../vectors/calc/statistics.json'

type Vectors = {
  'dr-single-constraint': {
    inputs: { parts: number[]; variance: number[]; total: number; totalVariance: number }
    expected: { parts: number[]; total: number; statistic: number }
  }
  'dr-pava-decreasing': {
    inputs: { y: number[]; weight: number[] }
    expected: { fitted: number[] }
  }
  'newsvendor-normal': {
    inputs: { cases: { h: number; p: number; mean: number; sd: number }[] }
    expected: { S: number[]; cost: number[]; costAt40: number; costAt1040: number }
  }
  'newsvendor-poisson': {
    inputs: { cases: { h: number; p: number; mean: number; leadTime?: number }[] }
    expected: { S: number[]; cost: number[]; costFirstAt5: number }
  }
  'base-stock-L4': {
    inputs: { h: number; p: number; mean: number; sd: number; leadTime: number; review: number }
    expected: { S: number; cost: number; costAt180: number }
  }
  'nb-lead-time': {
    inputs: { mean: number; variance: number }
    expected: { quantiles: Record<string, number>; cdf22: number; pmf0: number; lossAt20: number }
  }
  'RS-poisson-service': {
    inputs: { ratePerDay: number; reviewDays: number; leadTimeDays: number; S: number }
    expected: { cycleService: number; fillRate: number }
  }
  'blend-planned-baseline': {
    inputs: {
      estimate: number[]
      probability: number[]
      group: number[]
      factorMean: number[]
      factorVariance: number[]
      taskCv2: number
    }
    expected: { mean: number; variance: number }
  }
}

/** One published vector, its source beside it in the file. */
export function statisticsVector<K extends keyof Vectors>(id: K): Vectors[K] {
  const vector = file.vectors.find((candidate) => candidate.id === id)
  if (!vector) throw new Error(`no vector ${id}`)
  return vector as unknown as Vectors[K]
}
