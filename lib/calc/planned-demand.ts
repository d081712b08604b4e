import { requireNumber } from './errors'
import type { PlannedTask } from './forecast-types'

type Moments = { mean: number; variance: number }
/** How much of a task counts: its mean, and the mean of its square where that is uncertain too. */
type Share = Readonly<{ mean: number; meanSquare: number }>
const ALL: Share = { mean: 1, meanSquare: 1 }
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
 * @param shareOf of a task's cylinders, those that count, 0 to 1, and its mean square; all of them unless given
 * @returns moments in the unit of the estimates
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE, naming the field
 * @remarks Tasks of one group share their factor, so that part adds straight, not in quadrature.
 * @source compound of Bernoulli, factor and task scatter; checked against a Monte Carlo run
 */
export function plannedDemand<Task extends Weighed>(
  tasks: readonly Task[],
  shareOf: (task: Task) => Share = () => ALL,
): Moments {
  const byGroup = new Map<string, { expected: number; factorVariance: number }>()
  const total = { mean: 0, own: 0 }
  for (const task of tasks) {
    checkTask(task)
    const share = shareOf(task)
    const cylinders = task.cylinders * share.mean
    const m2 = task.factorMean ** 2 + task.factorVariance
    total.mean += task.chance * cylinders * task.factorMean
    const square = task.cylinders ** 2 * share.meanSquare
    total.own +=
      task.chance * (1 + task.taskCv2) * m2 * square - (task.chance * cylinders) ** 2 * m2
    const group = byGroup.get(task.groupId)
    if (group) group.expected += task.chance * cylinders
    else
      byGroup.set(task.groupId, {
        expected: task.chance * cylinders,
        factorVariance: task.factorVariance,
      })
  }
  const shared = [...byGroup.values()].reduce(
    (sum, group) => sum + group.factorVariance * group.expected ** 2,
    0,
  )
  return { mean: total.mean, variance: shared + total.own }
}

function checkTask(task: Weighed): void {
  requireNumber('cylinders', task.cylinders, { min: 0 })
  requireNumber('chance', task.chance, { min: 0, max: 1 })
  requireNumber('factorMean', task.factorMean, { above: 0 })
  requireNumber('factorVariance', task.factorVariance, { min: 0 })
  requireNumber('taskCv2', task.taskCv2, { min: 0 })
}

/** The share of a task that is done by the end of a day, spread evenly from its first day to its last. */
function shareOnTime(task: Pick<PlannedTask, 'fromDay' | 'toDay'>, day: number): number {
  const days = task.toDay - task.fromDay + 1
  return Math.min(1, Math.max(0, (day - task.fromDay + 1) / days))
}

/**
 * The share of a task that is done by the end of a day, over the days by which it may begin late.
 *
 * @param task its days, and the chance of each number of days late; on time for sure unless given
 * @returns mean of the share and of its square
 */
export function shareDoneBy(
  task: Pick<PlannedTask, 'fromDay' | 'toDay' | 'lateChances'>,
  day: number,
): Share {
  const late = task.lateChances ?? ON_TIME
  return late.reduce(
    (sum, chance, days) => {
      const share = shareOnTime(task, day - days)
      return {
        mean: sum.mean + chance * share,
        meanSquare: sum.meanSquare + chance * share ** 2,
      }
    },
    { mean: 0, meanSquare: 0 },
  )
}
const ON_TIME = [1]
