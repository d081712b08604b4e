// Runs mixed-integer programs on HiGHS, away from the thread that answers pages.
import { parentPort, workerData } from 'node:worker_threads'
import loadHighs from 'highs'

const { asks, timeLimitS, gap, mostNodes } = workerData
const LEAST_S = 0.05
const NONE = 1e30
const highs = await loadHighs()
const { callbackType, modelStatus } = highs.constants

/** HiGHS takes its own infinity. */
const bounded = (values) =>
  values.map((value) => (value >= NONE ? highs.infinity : value <= -NONE ? -highs.infinity : value))

function modelData(milp, isRelaxed) {
  const numCols = milp.cost.length
  const numRows = milp.rowLower.length
  return {
    numCols,
    numRows,
    offset: milp.offset,
    colCost: milp.cost,
    colLower: milp.lower,
    colUpper: bounded(milp.upper),
    rowLower: bounded(milp.rowLower),
    rowUpper: bounded(milp.rowUpper),
    integrality: isRelaxed ? milp.isInteger.map(() => 0) : milp.isInteger,
    matrix: {
      format: 'csr',
      numRows,
      numCols,
      starts: milp.rowStarts,
      indices: milp.columns,
      values: milp.coefficients,
    },
  }
}

function answerOf(model, isRelaxed) {
  const status = model.getModelStatus()
  const isInfeasible =
    status === modelStatus.infeasible || status === modelStatus.unboundedOrInfeasible
  const FEASIBLE = 2
  const hasPlan = !isInfeasible && model.info.get('primal_solution_status') === FEASIBLE
  const isSolved = status === modelStatus.optimal
  return {
    outcome: isInfeasible ? 'infeasible' : isSolved ? 'solved' : 'stopped',
    values: hasPlan ? model.getSolution().colValue : null,
    objective: hasPlan ? model.getObjectiveValue() : null,
    // Without whole numbers what was reached when time was over may still fall: only the end proves anything.
    bound: isRelaxed
      ? isSolved
        ? model.getObjectiveValue()
        : null
      : model.info.get('mip_dual_bound'),
    duals: isRelaxed && isSolved ? model.getSolution().rowDual : null,
  }
}

const until = performance.now() + timeLimitS * 1000
const bySize = asks
  .map((ask, at) => ({ ...ask, at }))
  .sort((a, b) => a.milp.cost.length - b.milp.cost.length)
for (const [index, { milp, start, isRelaxed, at }] of bySize.entries()) {
  const model = highs.createModel(modelData(milp, isRelaxed))
  try {
    const left = Math.max(LEAST_S, (until - performance.now()) / 1000)
    model.options.set({ output_flag: false, time_limit: left, mip_rel_gap: gap })
    if (mostNodes !== undefined) model.options.set({ mip_max_nodes: mostNodes })
    if (start) model.setSolution({ colValue: start })
    const tell = (data) =>
      parentPort?.postMessage({
        kind: 'progress',
        part: index + 1,
        parts: bySize.length,
        best: data?.mip_primal_bound ?? null,
        bound: data?.mip_dual_bound ?? null,
      })
    tell()
    model.run({ [callbackType.mipLogging]: ({ data }) => tell(data) })
    parentPort?.postMessage({ kind: 'answer', at, answer: answerOf(model, isRelaxed) })
  } finally {
    model.dispose()
  }
}
parentPort?.postMessage({ kind: 'end' })
