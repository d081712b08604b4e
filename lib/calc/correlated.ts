import { CalcError, requireNumber } from './errors'

/** Quantities with how well each is known and how far their errors go together. */
export type Correlated = {
  means: number[]
  standardUncertainties: number[]
  /** Square, symmetric, ones down the middle; nought where a quantity is exact. */
  correlations: number[][]
}

const meanOf = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length

/** Covariances as uncertainties and correlations. */
function fromCovariances(means: number[], covariances: readonly (readonly number[])[]): Correlated {
  const standardUncertainties = means.map((_, i) =>
    Math.sqrt(Math.max(0, covariances[i]?.[i] ?? 0)),
  )
  const correlations = means.map((_, i) =>
    means.map((_, j) => {
      if (i === j) return 1
      const both = (standardUncertainties[i] ?? 0) * (standardUncertainties[j] ?? 0)
      const r = both > 0 ? (covariances[i]?.[j] ?? 0) / both : 0
      return Math.max(-1, Math.min(1, r))
    }),
  )
  return { means, standardUncertainties, correlations }
}

/**
 * Means of quantities that were observed together several times, with how their errors go together.
 *
 * @param observations a row a quantity, in any unit: the same number of values in each, at least two, in one order
 * @returns means, standard uncertainties of the means, correlations
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source JCGM 100:2008 (GUM), 4.2.3 and 5.2.3: s(a, b) = Σ (a − ā)(b − b̄) / (n (n − 1)), from memory; example H.2
 * @example meansTogether([[1, 3], [2, 6]]).correlations // [[1, 1], [1, 1]]
 */
export function meansTogether(observations: readonly (readonly number[])[]): Correlated {
  const count = observations[0]?.length ?? 0
  requireNumber('observations', count, { min: 2 })
  for (const [i, row] of observations.entries()) {
    requireNumber(`observations.${i}`, row.length, { min: count, max: count })
    for (const [at, value] of row.entries()) requireNumber(`observations.${i}.${at}`, value)
  }
  const means = observations.map(meanOf)
  const covariances = observations.map((a, i) =>
    observations.map((b, j) => {
      const products = a.map((value, at) => {
        return (value - (means[i] as number)) * ((b[at] as number) - (means[j] as number))
      })
      return products.reduce((sum, one) => sum + one, 0) / (count * (count - 1))
    }),
  )
  return fromCovariances(means, covariances)
}

/**
 * How each result moves with each input: half the difference between one standard uncertainty up and down.
 *
 * @param known inputs; one that is exact moves nothing
 * @param formulas results as functions of the inputs, defined around them
 * @returns a row a result, in its unit over the input's
 * @throws {CalcError} NOT_FINITE
 * @source JCGM 100:2008 (GUM), 5.1.3 note 2, from memory
 */
export function sensitivitiesOf(
  known: Pick<Correlated, 'means' | 'standardUncertainties'>,
  formulas: readonly ((values: readonly number[]) => number)[],
): number[][] {
  return formulas.map((formula, row) =>
    known.means.map((mean, i) => {
      const u = known.standardUncertainties[i] ?? 0
      if (u === 0) return 0
      const at = (value: number) => formula(known.means.map((own, j) => (j === i ? value : own)))
      return requireNumber(`formulas.${row}`, (at(mean + u) - at(mean - u)) / (2 * u))
    }),
  )
}

/**
 * Results of inputs whose errors go together: their uncertainties, and how those go together in turn.
 *
 *     u²(y) = Σ cᵢ² uᵢ² + 2 Σ cᵢ cⱼ uᵢ uⱼ rᵢⱼ
 *
 * @param known standardUncertainties >= 0, correlations from −1 to 1
 * @param results value of each and a row of sensitivities, result's unit over the input's
 * @returns the results in the same order
 * @throws {CalcError} NOT_FINITE, OUT_OF_RANGE, or WRONG_ORDER where a correlation differs from its mirror
 * @source JCGM 100:2008 (GUM), 5.2.2 equation 13, and H.2.3 for several results, from memory
 * @example combineTogether({ standardUncertainties: [3, 4], correlations: [[1, 1], [1, 1]] },
 *   { means: [0], sensitivities: [[1, 1]] }).standardUncertainties // [7]: 5 if they were independent
 */
export function combineTogether(
  known: Readonly<{
    standardUncertainties: readonly number[]
    correlations: readonly (readonly number[])[]
  }>,
  results: Readonly<{ means: readonly number[]; sensitivities: readonly (readonly number[])[] }>,
): Correlated {
  const size = checkedSize(known)
  for (const [row, own] of results.sensitivities.entries()) {
    requireNumber(`sensitivities.${row}`, own.length, { min: size, max: size })
    for (const [i, value] of own.entries()) requireNumber(`sensitivities.${row}.${i}`, value)
  }
  requireNumber('means', results.means.length, {
    min: results.sensitivities.length,
    max: results.sensitivities.length,
  })
  const u = known.standardUncertainties
  const covariance = (a: readonly number[], b: readonly number[]) => {
    let sum = 0
    for (let i = 0; i < size; i += 1)
      for (let j = 0; j < size; j += 1)
        sum +=
          (a[i] as number) *
          (b[j] as number) *
          (u[i] as number) *
          (u[j] as number) *
          (known.correlations[i]?.[j] as number)
    return sum
  }
  return fromCovariances(
    [...results.means],
    results.sensitivities.map((a) => results.sensitivities.map((b) => covariance(a, b))),
  )
}

function checkedSize({
  standardUncertainties,
  correlations,
}: Readonly<{
  standardUncertainties: readonly number[]
  correlations: readonly (readonly number[])[]
}>): number {
  const size = standardUncertainties.length
  for (const [i, u] of standardUncertainties.entries())
    requireNumber(`standardUncertainties.${i}`, u, { min: 0 })
  requireNumber('correlations', correlations.length, { min: size, max: size })
  for (const [i, row] of correlations.entries()) {
    requireNumber(`correlations.${i}`, row.length, { min: size, max: size })
    for (const [j, r] of row.entries()) {
      requireNumber(`correlations.${i}.${j}`, r, i === j ? { min: 1, max: 1 } : { min: -1, max: 1 })
      if (r !== correlations[j]?.[i])
        throw new CalcError('WRONG_ORDER', `correlations.${i}.${j}`, r)
    }
  }
  return size
}

/** One part of an uncertainty, and from how many observations it is known: Infinity where it is taken as sure. */
export type UncertaintyPart = { standardUncertainty: number; degreesOfFreedom: number }

/**
 * Degrees of freedom of a combined uncertainty, by Welch and Satterthwaite.
 *
 *     ν = u⁴ / Σ (uᵢ⁴ / νᵢ)
 *
 * @param parts of the result in its unit, u >= 0, degrees of freedom above nought or Infinity; inputs independent
 * @returns scalar above nought; Infinity where no part is in doubt
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source JCGM 100:2008 (GUM), G.4.1 equation G.2b, from memory; example H.1
 * @example effectiveFreedom([{ standardUncertainty: 3, degreesOfFreedom: 9 }, { standardUncertainty: 4, degreesOfFreedom: Infinity }]) // 69.4
 */
export function effectiveFreedom(parts: readonly UncertaintyPart[]): number {
  let [variance, doubt] = [0, 0]
  for (const [i, { standardUncertainty: u, degreesOfFreedom: dof }] of parts.entries()) {
    requireNumber(`parts.${i}.standardUncertainty`, u, { min: 0 })
    if (dof !== Infinity) requireNumber(`parts.${i}.degreesOfFreedom`, dof, { above: 0 })
    variance += u * u
    doubt += u ** 4 / dof
  }
  return doubt > 0 ? variance ** 2 / doubt : Infinity
}
