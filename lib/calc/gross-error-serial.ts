import { type GlobalTest, globalTests, USUAL_FALSE_ALARM } from './gross-error-global'
import { equivalenceSets, type Likelihood, likelihoodOf } from './gross-error-likelihood'
import { dot } from './reconcile-arrays'
import { factorise, solveWith } from './reconcile-cholesky'
import { fullColumn, type Signature, sparseDot } from './reconcile-form'
import type { ResidualSystem } from './reconcile-types'

/** Causes that are taken at most: a part that is off by more has to be looked at by a person. */
const MOST_CAUSES = 5
/** What is left of a signature, as a share, when those taken before explain all of it. */
const NOTHING_LEFT = 1e-9

export type Taken = {
  /** Place of the cause among the candidates, and of all that fit exactly as well. */
  candidate: number
  equivalents: number[]
  likelihood: Likelihood
}

export type Compensated = {
  /** The global test before any cause and after each. */
  path: GlobalTest[]
  taken: Taken[]
  /** Sizes of the causes taken, found together, in the order taken. */
  sizes: number[]
  /** Nothing more stands out. */
  isExplained: boolean
}

/** A direction that is explained: S⁻¹ q of a signature q made square to those before and of length one. */
export type Explained = { solved: Float64Array; size: number }

/**
 * Takes the cause that explains most, counts it as one more unknown, and looks again until the rest balances.
 *
 * @param system of one component
 * @param candidates signatures of every cause that is thought of
 * @param choice rate of false alarms of the global test; causes at most, 5 where left out
 * @returns causes in the order taken with those that cannot be told from them; never one culprit of several
 * @source serial compensation, Narasimhan & Mah 1987
 */
export function compensateSerially(
  system: ResidualSystem,
  candidates: readonly Signature[],
  choice: { falseAlarm?: number; most?: number } = {},
): Compensated {
  const { falseAlarm = USUAL_FALSE_ALARM, most = MOST_CAUSES } = choice
  const first = candidates.map((candidate) => likelihoodOf(system, candidate))
  const explained: Explained[] = []
  const taken: Taken[] = []
  const test = () => restTest(system, explained, falseAlarm)
  const path = [test()]
  while (path.at(-1)?.isRejected && taken.length < most && explained.length < system.size) {
    const ratios = candidates.map((candidate, c) => remaining(candidate, first[c], explained))
    const [best] = equivalenceSets(ratios.map((ratio) => ratio?.statistic ?? null))
    const candidate = best?.[0]
    const likelihood = candidate === undefined ? null : ratios[candidate]
    if (!best || candidate === undefined || !likelihood) break
    taken.push({ candidate, equivalents: best, likelihood })
    explained.push(explain(system, candidates[candidate] as Signature, explained))
    if (explained.length === system.size) break
    path.push(test())
  }
  const signatures = taken.map((one) => candidates[one.candidate] as Signature)
  return {
    path,
    taken,
    sizes: sizesTogether(system, signatures),
    isExplained: !(path.at(-1)?.isRejected ?? false),
  }
}

function restTest(
  { residuals, multipliers, size }: ResidualSystem,
  explained: readonly Explained[],
  falseAlarm: number,
): GlobalTest {
  const all = dot(residuals, multipliers)
  const rest = explained.reduce((left, one) => left - one.size ** 2, all)
  return globalTests(
    [{ statistic: Math.max(0, rest), degreesOfFreedom: size - explained.length }],
    { falseAlarm },
  )[0] as GlobalTest
}

/** What those taken before leave of a cause: its weight fᵀ S⁻¹ f and its pull fᵀ S⁻¹ r. */
export type Rest = { whole: number; weight: number; pull: number }

/** A cause before any is taken. */
export const restOf = ({ size, sizeVariance }: Likelihood): Rest => {
  const whole = 1 / sizeVariance
  return { whole, weight: whole, pull: size * whole }
}

/** The same once one more is an unknown of its own; the very same object where it does not touch the cause. */
export function lessOf(rest: Rest, candidate: Signature, { solved, size }: Explained): Rest {
  const share = sparseDot(candidate, solved)
  return share === 0
    ? rest
    : { ...rest, weight: rest.weight - share * share, pull: rest.pull - share * size }
}

/** The ratio of what is left; null where those taken explain all of it. */
export function ratioOf({ whole, weight, pull }: Rest): Likelihood | null {
  if (!(weight > NOTHING_LEFT * whole)) return null
  return { statistic: (pull * pull) / weight, size: pull / weight, sizeVariance: 1 / weight }
}

/** The ratio of a cause once those taken are unknowns of their own; null where they explain all of it. */
function remaining(
  candidate: Signature,
  first: Likelihood | null | undefined,
  explained: readonly Explained[],
): Likelihood | null {
  if (!first) return null
  return ratioOf(explained.reduce((rest, one) => lessOf(rest, candidate, one), restOf(first)))
}

/** Takes a cause as an unknown of its own: what it explains is no longer looked at. */
export function explain(
  system: ResidualSystem,
  signature: Signature,
  explained: readonly Explained[],
): Explained {
  const column = fullColumn(system.size, signature)
  const solved = system.solve(column)
  for (const one of explained) {
    const share = sparseDot(signature, one.solved)
    for (let j = 0; j < solved.length; j += 1)
      solved[j] = (solved[j] as number) - share * (one.solved[j] as number)
  }
  const length = Math.sqrt(sparseDot(signature, solved))
  for (let j = 0; j < solved.length; j += 1) solved[j] = (solved[j] as number) / length
  return { solved, size: dot(solved, system.residuals) }
}

/** b = (Fᵀ S⁻¹ F)⁻¹ Fᵀ S⁻¹ r. */
function sizesTogether(system: ResidualSystem, signatures: readonly Signature[]): number[] {
  if (signatures.length === 0) return []
  const solved = signatures.map((one) => system.solve(fullColumn(system.size, one)))
  const form = Float64Array.from(
    signatures.flatMap((one) => solved.map((column) => sparseDot(one, column))),
  )
  const factor = factorise(form, signatures.length)
  if (!factor) return signatures.map(() => 0)
  return [
    ...solveWith(
      factor,
      signatures.map((one) => sparseDot(one, system.multipliers)),
    ),
  ]
}
