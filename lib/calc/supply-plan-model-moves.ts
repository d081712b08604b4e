import type { MilpTerm } from './milp'
import { cellKey } from './supply-plan-cost'
import { MOST_OF_A_SIZE, type PlanModelDraft } from './supply-plan-draft'
import type { PlanCell, PlanRoute } from './supply-plan-types'

/** A trip that an own truck may make, within materials of trade or with papers. */
export function addMove(model: PlanModelDraft, route: PlanRoute, day: number): void {
  const { problem, program } = model
  const { fleet } = problem
  program.about = null
  // No driver, no trip; where limits are asked about, more hours may be the answer.
  if (!model.isElastic && (fleet.driverHours[day] ?? 0) < route.hours) return
  const lines: { from: number; to: number; column: number; cell: PlanCell }[] = []
  for (const from of model.bySite.get(route.fromSiteId) ?? []) {
    const cell = problem.cells[from]
    const to = cell && model.index.get(cellKey(route.toSiteId, cell.sizeId))
    const other = to === undefined ? undefined : problem.cells[to]
    if (!cell || to === undefined || !other) continue
    const byWeight = Math.floor(Math.max(fleet.tradeKg, fleet.papersKg) / cell.grossKg + 1e-9)
    const before = (model.base[from]?.[day - 1] ?? cell.full) - (cell.used[day - 1] ?? 0)
    const top = Math.min(byWeight, MOST_OF_A_SIZE)
    // Where use has passed what was there, what is left is not known to be spare.
    if (top <= 0 || before < 0) continue
    const rent = (other.rentPerDay - cell.rentPerDay) * (problem.days - day)
    lines.push({ from, to, column: program.whole(model.priced(rent), top), cell })
  }
  if (lines.length === 0) return
  const trade = program.whole(model.priced(route.tripCost), 1)
  const papers = program.whole(model.priced(route.tripCost), 1)
  const where = { at: route.routeId, gasId: null, day }
  program.row(
    [
      [trade, 1],
      [papers, 1],
    ],
    { most: 1 },
  )
  const weightRow = model.limited(
    [
      ...lines.map(({ column, cell }): MilpTerm => [column, cell.grossKg]),
      [trade, -fleet.tradeKg],
      [papers, -fleet.papersKg],
    ],
    { most: 0 },
    { limit: 'truck_weight', ...where },
  )
  const linked = lines.map(({ from, to, column, cell }) => {
    // Whole cylinders: where one and four fifths would fit, one does.
    const fits = (kg: number) => Math.min(MOST_OF_A_SIZE, Math.floor(kg / cell.grossKg + 1e-9))
    const byTrade = cell.grossKg > fleet.tradeEachKg ? 0 : fits(fleet.tradeKg)
    const byPapers = fits(fleet.papersKg)
    // Where limits are asked about, weight may give way, and nothing but papers lets a heavy one ride.
    const loose = byTrade > 0 ? -MOST_OF_A_SIZE : 0
    const row = program.row(
      [
        [column, 1],
        [trade, model.isElastic ? loose : -byTrade],
        [papers, model.isElastic ? -MOST_OF_A_SIZE : -byPapers],
      ],
      { most: 0 },
    )
    const before = (model.base[from]?.[day - 1] ?? cell.full) - (cell.used[day - 1] ?? 0)
    model.flows[to]?.push({ day, column, sign: 1 })
    model.flows[from]?.push({ day, column, sign: -1 })
    model.spare.set(`${from}|${day}`, { from, day, before })
    return { from, to, column, row, byTrade, byPapers }
  })
  model.moves.push({ route, day, trade, papers, weightRow, lines: linked })
}

/** What drivers have time for, and that nothing leaves that is not there. */
export function addHours(model: PlanModelDraft): void {
  const { problem } = model
  // All that leaves by a day must have been there the evening before. Every route that feeds it is known by now.
  for (const { from, day, before } of model.spare.values()) {
    model.program.about = problem.cells[from]?.siteId ?? null
    const terms = (model.flows[from] ?? [])
      .filter((flow) => (flow.sign < 0 ? flow.day <= day : flow.day < day))
      .map((flow): MilpTerm => [flow.column, -flow.sign])
    model.program.row(terms, { most: before })
  }
  model.program.about = null
  for (let day = 0; day < problem.days; day += 1) {
    const today = model.moves.filter((move) => move.day === day)
    if (today.length === 0) continue
    const hours = (isPapers: boolean) =>
      today.flatMap(({ route, trade, papers }): MilpTerm[] =>
        isPapers
          ? [[papers, route.hours]]
          : [
              [trade, route.hours],
              [papers, route.hours],
            ],
      )
    const where = { at: '', gasId: null, day }
    for (const isPapers of [false, true]) {
      const row = model.limited(
        hours(isPapers),
        { most: (isPapers ? problem.fleet.trainedHours : problem.fleet.driverHours)[day] ?? 0 },
        { limit: isPapers ? 'trained_hours' : 'driver_hours', ...where },
      )
      model.hourRows.push({ day, isPapers, row })
    }
  }
}
