import type { PlanModel } from './supply-plan-columns'
import { cellCost } from './supply-plan-cost'
import { PlanModelDraft } from './supply-plan-draft'
import { addHours, addMove } from './supply-plan-model-moves'
import { addOrder } from './supply-plan-model-orders'
import { addCover, addManifolds, addReturns, addStorage } from './supply-plan-model-stock'
import type { PlanProblem } from './supply-plan-types'

function built(model: PlanModelDraft): PlanModel {
  const { problem } = model
  for (const supplier of problem.suppliers)
    for (const day of supplier.days) if (day < problem.days) addOrder(model, supplier, day)
  for (const route of problem.routes)
    for (let day = 0; day < problem.days; day += 1) addMove(model, route, day)
  addHours(model)
  addReturns(model)
  addCover(model)
  addManifolds(model)
  addStorage(model)
  for (const [at, cell] of problem.cells.entries()) {
    const level = model.base[at] ?? []
    const { rent, demurrage } = cellCost(cell, { level, returned: level.map(() => 0) })
    if (!model.isElastic) model.program.offset += rent + demurrage
  }
  const { orders, moves, returns, coverShort, manifoldShort, slacks, hourRows, roomRows } = model
  return {
    milp: model.program.build(),
    orders,
    moves,
    returns,
    coverShort,
    manifoldShort,
    slacks,
    hourRows,
    roomRows,
    rowsAbout: model.program.rowsAbout,
  }
}

/**
 * The mixed-integer program of a supply plan.
 *
 * @param problem what is known of stock, use, trucks and limits
 * @returns rows and columns, and what each column stands for
 * @remarks Its least cost is that of `planCost`; every plan it allows breaks no limit of `brokenLimits`.
 */
export function planModel(problem: PlanProblem): PlanModel {
  return built(new PlanModelDraft(problem, false))
}

/**
 * The same program with every limit able to give way at a cost, and nothing else priced: what has to be
 * relaxed where no plan is to be had.
 */
export function relaxedPlanModel(problem: PlanProblem): PlanModel {
  return built(new PlanModelDraft(problem, true))
}
