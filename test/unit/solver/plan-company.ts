import type { PlanCell, PlanProblem, PlanRoute, PlanSupplier } from '@/lib/calc/supply-plan-types'
import { convert } from '@/lib/calc/units'
import { type Chance, openChance } from '@/seed/random'

export type CompanySize = Readonly<{ sites: number; gases: number; sizes: number; days: number }>

const poundsKg = (value: number) => convert({ value, from: 'lb', to: 'kg' })
const FLEET = { tradeKg: poundsKg(440), tradeEachKg: poundsKg(220), papersKg: 900 }

function cellOf(
  chance: Chance,
  siteId: string,
  { gas, size, days }: { gas: number; size: number; days: number },
): PlanCell {
  const rate = chance.happens(0.3) ? 0 : chance.between(0.05, 1.2)
  const used = Array.from({ length: days }, (_, day) => Math.floor(rate * (day + 1)))
  const cover = used.map((mean, day) => mean + Math.ceil(1.3 * Math.sqrt(rate * (day + 1))))
  const fixedIn = new Array<number>(days).fill(0)
  if (chance.happens(0.2)) fixedIn[chance.whole(0, days - 1)] = chance.whole(1, 4)
  return {
    siteId,
    gasId: `gas${gas}`,
    sizeId: `gas${gas}-size${size}`,
    full: chance.whole(0, 6),
    inUse: rate > 0 ? chance.whole(1, 2) : 0,
    empty: chance.whole(0, 5),
    used,
    cover: rate > 0 ? cover : used,
    fixedIn,
    rentPerDay: chance.whole(10, 60),
    demurragePerDay: chance.whole(0, 80),
    demurrageFromDay: chance.whole(0, days),
    runOutPerDay: chance.whole(3000, 20_000),
    grossKg: chance.between(20, 110),
  }
}

/** A made-up company with trucks, breaks, minimums, storage that binds now and then, and a manifold. */
export function planCompany(seed: string, { sites, gases, sizes, days }: CompanySize): PlanProblem {
  const chance = openChance(`plan company ${seed}`)
  const siteIds = Array.from({ length: sites }, (_, i) => `site${i}`)
  const cells: PlanCell[] = []
  const grossKg = new Map<string, number>()
  for (const siteId of siteIds)
    for (let gas = 0; gas < gases; gas += 1)
      for (let size = 0; size < sizes; size += 1) {
        const cell = cellOf(chance, siteId, { gas, size, days })
        const weighs = grossKg.get(cell.sizeId) ?? cell.grossKg
        grossKg.set(cell.sizeId, weighs)
        cells.push({ ...cell, grossKg: weighs })
      }
  const sizeIds = [...grossKg.keys()]
  const suppliers: PlanSupplier[] = siteIds.flatMap((siteId) =>
    ['a', 'b'].slice(0, chance.whole(1, 2)).map((supplierId) => ({
      supplierId,
      siteId,
      days: Array.from({ length: days }, (_, day) => day).filter(
        (day) => day >= 1 && (day + siteId.length) % chance.whole(2, 4) === 0,
      ),
      fee: chance.whole(1000, 9000),
      least: chance.whole(1, 3),
      most: 60,
      prices: Object.fromEntries(sizeIds.map((sizeId) => [sizeId, chance.whole(1500, 9000)])),
      breaks: chance.happens(0.4) ? [{ from: chance.whole(4, 8), off: chance.whole(50, 300) }] : [],
    })),
  )
  const routes: PlanRoute[] = siteIds.slice(1).flatMap((siteId, i) =>
    chance.happens(0.5)
      ? [
          {
            routeId: `${siteIds[0]}>${siteId}`,
            fromSiteId: siteIds[0] ?? '',
            toSiteId: siteId,
            tripCost: chance.whole(2000, 12_000),
            hours: 1 + (i % 3),
          },
        ]
      : [],
  )
  const byVolume = chance.branch('storage')
  const storage = siteIds.map((siteId) => {
    const here = cells.filter((cell) => cell.siteId === siteId)
    // Every other site counts cubic feet, so that sizes differ.
    const isByVolume = byVolume.happens(0.5)
    const eachOf = Object.fromEntries(
      sizeIds.map((sizeId) => [sizeId, isByVolume ? byVolume.whole(40, 330) : 1]),
    )
    const there = here.reduce((sum, cell) => {
      const stands =
        cell.full + cell.empty + cell.inUse + cell.fixedIn.reduce((all, one) => all + one, 0)
      return sum + stands * (eachOf[cell.sizeId] ?? 1)
    }, 0)
    return {
      siteId,
      gasIds: [...new Set(here.map((cell) => cell.gasId))],
      most: there + chance.whole(2, 6 * gases * sizes) * (isByVolume ? 150 : 1),
      eachOf,
    }
  })
  return {
    days,
    cells,
    suppliers,
    routes,
    fleet: {
      ...FLEET,
      driverHours: new Array<number>(days).fill(4),
      trainedHours: new Array<number>(days).fill(2),
    },
    storage,
    manifolds: [
      {
        siteId: siteIds[0] ?? '',
        gasId: 'gas0',
        least: Array.from({ length: days }, (_, day) => (day >= days / 2 ? 3 : 0)),
        shortPerDay: 8000,
      },
    ],
    coverIs: 'priced',
  }
}
