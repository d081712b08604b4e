import { requireNumber } from './errors'
import type { PlannedTask } from './forecast-types'

type Moments = { mean: number; variance: number }
type Weighed = Pick<
  PlannedTask,
  'cylinders' | 'chance' | 'groupId' | 'factorMean' | 'factorVariance' | 'taskCv2'
>

/**
 * Mean and variance of what planned tasks will take.
 *
 *     mean = Σ π q m      var = Σ_g τ² (Σ_{j in g} π q)² + Σ q² (π (1 + c) M2 − π² M2),  M2 = m² + τ²
 *
 * @param tasks estimate, chance to run, and the factor (mean, variance) of the group that does it
 * @returns moments in the unit of the estimates
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE, naming the field
 * @remarks Tasks of one group share their factor, so that part adds straight, not in quadrature.
 * @source compound of Bernoulli, factor and task scatter; checked against a Monte Carlo run
 */
export function plannedDemand(tasks: readonly Weighed[]): Moments {
  for (const task of tasks) checkTask(task)
  const byGroup = new Map<string, { expected: number; factorVariance: number }>()
  for (const task of tasks) {
    const group = byGroup.get(task.groupId) ?? { expected: 0, factorVariance: task.factorVariance }
    byGroup.set(task.groupId, { ...group, expected: group.expected + task.chance * task.cylinders })
  }
  const shared = [...byGroup.values()].reduce(
    (sum, group) => sum + group.factorVariance * group.expected ** 2,
    0,
  )
  const own = tasks.reduce((sum, task) => {
    const m2 = task.factorMean ** 2 + task.factorVariance
    return (
      sum + task.cylinders ** 2 * (task.chance * (1 + task.taskCv2) * m2 - task.chance ** 2 * m2)
    )
  }, 0)
  return {
    mean: tasks.reduce((sum, task) => sum + task.chance * task.cylinders * task.factorMean, 0),
    variance: shared + own,
  }
}

function checkTask(task: Weighed): void {
  requireNumber('cylinders', task.cylinders, { min: 0 })
  requireNumber('chance', task.chance, { min: 0, max: 1 })
  requireNumber('factorMean', task.factorMean, { above: 0 })
  requireNumber('factorVariance', task.factorVariance, { min: 0 })
  requireNumber('taskCv2', task.taskCv2, { min: 0 })
}

/** The share of a task that is done by the end of a day, spread evenly from its first day to its last. */
export function shareDoneBy(task: Pick<PlannedTask, 'fromDay' | 'toDay'>, day: number): number {
  const days = task.toDay - task.fromDay + 1
  return Math.min(1, Math.max(0, (day - task.fromDay + 1) / days))
}
