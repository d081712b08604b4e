import type { MilpTerm } from './milp'
import { otherStanding, storageEach, storageLargest } from './supply-plan-cost'
import type { PlanModelDraft } from './supply-plan-draft'

/** Empties that may go with a truck. */
export function addReturns(model: PlanModelDraft): void {
  const { problem, program } = model
  for (const [at, cell] of problem.cells.entries()) {
    program.about = cell.siteId
    const terms: MilpTerm[] = []
    for (let day = 0; day < problem.days; day += 1) {
      const trucks = model.trucks.get(`${cell.siteId}|${day}`)
      const used = day === 0 ? 0 : (cell.used[day - 1] ?? 0)
      const top = cell.empty + used
      if (!trucks || top <= 0) continue
      const late = Math.max(0, problem.days - Math.max(day, cell.demurrageFromDay))
      const saved = cell.rentPerDay * (problem.days - day) + cell.demurragePerDay * late
      const column = program.whole(model.priced(-saved), top)
      model.returns.push({ cell: at, day, column })
      model.gone[at]?.push({ day, column })
      terms.push([column, 1])
      program.row([[column, 1], ...trucks.map((truck): MilpTerm => [truck, -top])], { most: 0 })
      program.row([...terms], { most: top })
      const level = day === 0 ? 0 : (model.base[at]?.[day - 1] ?? 0)
      // Used up cannot be more than was ever there.
      if (level < used)
        program.row(
          [...terms, ...model.levelTerms(at, day - 1).map(([c, s]): MilpTerm => [c, -s])],
          { most: cell.empty + level },
        )
    }
  }
}

/** What the high end of use is short of. */
export function addCover(model: PlanModelDraft): void {
  const { problem, program } = model
  for (const [at, cell] of problem.cells.entries()) {
    program.about = cell.siteId
    for (let day = 0; day < problem.days; day += 1) {
      const least = (cell.cover[day] ?? 0) - (model.base[at]?.[day] ?? 0)
      const terms = model.levelTerms(at, day)
      if (least <= 0 && !terms.some(([, sign]) => sign < 0)) continue
      if (problem.coverIs === 'required') {
        const where = { at: cell.siteId, gasId: cell.gasId, day }
        model.limited(terms, { least }, { limit: 'cover', ...where })
      } else {
        const column = program.column(model.priced(cell.runOutPerDay))
        model.coverShort.push({ cell: at, day, column })
        program.row([...terms, [column, 1]], { least })
        if (least > 0) tighten(model, at, day, { least, short: column })
      }
    }
  }
}

/**
 * Some truck must come for what is short, however many cylinders it could bring: true of every plan, and
 * without it the solver fills a twentieth of a truck for a twentieth of its fee.
 */
function tighten(
  model: PlanModelDraft,
  at: number,
  day: number,
  { least, short }: { least: number; short: number },
): void {
  const cell = model.problem.cells[at]
  const isLastBefore =
    model.trucks.has(`${cell?.siteId}|${day + 1}`) || day === model.problem.days - 1
  if (!cell || !isLastBefore) return
  const incoming = (model.flows[at] ?? []).filter((flow) => flow.sign > 0 && flow.day <= day)
  const orders = incoming.filter((flow) => model.truckOf.has(flow.column))
  const others = incoming.filter((flow) => !model.truckOf.has(flow.column))
  for (let kept = 0; kept < orders.length; kept += 1) {
    const terms = orders.map(
      (flow, i): MilpTerm =>
        i < kept ? [flow.column, 1] : [model.truckOf.get(flow.column) ?? 0, least],
    )
    model.program.row([...terms, ...others.map((flow): MilpTerm => [flow.column, 1]), [short, 1]], {
      least,
    })
  }
}

/** What a manifold lacks. */
export function addManifolds(model: PlanModelDraft): void {
  const { problem, program } = model
  for (const [index, need] of problem.manifolds.entries()) {
    program.about = need.siteId
    const here = (model.bySite.get(need.siteId) ?? []).filter(
      (at) => problem.cells[at]?.gasId === need.gasId,
    )
    for (let day = 0; day < problem.days; day += 1) {
      const there = here.reduce((sum, at) => {
        const cell = problem.cells[at]
        return sum + (model.base[at]?.[day] ?? 0) - (cell?.used[day] ?? 0) + (cell?.inUse ?? 0)
      }, 0)
      const least = (need.least[day] ?? 0) - there
      const terms = here.flatMap((at) => model.levelTerms(at, day))
      if (least <= 0 && !terms.some(([, sign]) => sign < 0)) continue
      const column = program.column(model.priced(need.shortPerDay))
      model.manifoldShort.push({ need: index, day, column })
      program.row([...terms, [column, 1]], { least })
    }
  }
}

/** What may stand on a site at once. */
export function addStorage(model: PlanModelDraft): void {
  const { problem } = model
  for (const [index, limit] of problem.storage.entries()) {
    const { siteId, gasIds, most } = limit
    model.program.about = siteId
    const here = (model.bySite.get(siteId) ?? []).filter((at) =>
      gasIds.includes(problem.cells[at]?.gasId ?? ''),
    )
    const largest = storageLargest(limit, problem.cells)
    // In cylinders of the largest size, as what breaks it is told.
    const countOf = (at: number) => storageEach(limit, problem.cells[at]?.sizeId ?? '') / largest
    for (let day = 0; day < problem.days; day += 1) {
      const there = here.reduce((sum, at) => {
        const cell = problem.cells[at]
        const stands = (model.base[at]?.[day] ?? 0) + (cell ? otherStanding(cell, day) : 0)
        return sum + stands * countOf(at)
      }, 0)
      const terms = here.flatMap((at) =>
        [
          ...model.levelTerms(at, day),
          ...(model.gone[at] ?? [])
            .filter((one) => one.day <= day)
            .map((one): MilpTerm => [one.column, -1]),
        ].map(([column, sign]): MilpTerm => [column, sign * countOf(at)]),
      )
      if (terms.length === 0 && there <= most / largest) continue
      const row = model.limited(
        terms,
        { most: most / largest - there },
        { limit: 'storage', at: siteId, gasId: gasIds.join(' '), day },
      )
      model.roomRows.push({ limit: index, day, row, largest })
    }
  }
}
