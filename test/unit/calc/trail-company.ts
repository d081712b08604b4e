import { meantValues } from '@/lib/calc/hypotheses-sizes'
import type { Finding, Trail, TrailReading, TrailWork } from '@/lib/calc/hypotheses-types'
import { type Chance, openChance } from '@/seed/random'

/** A cylinder of this made-up company: 2,200 psi when full, contents in proportion. */
const FULL_KG = 9
const FULL_PSI = 2200
const HEEL_KG = 0.6
const READ_U_KG = 0.25
const FILLED_U_KG = 0.1
const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS
const DAYS = 100
/** A stretch of work scatters so much around its crew's factor. */
const WORK_SCATTER = 0.07

export type FaultKind = 'leak_idle' | 'swap_not_logged' | 'reading_mistyped' | 'work_not_logged'
export type Planted = { kind: FaultKind; cylinderIds: string[]; atMs: number }
export type SimulatedCompany = { trail: Trail; planted: Planted[] }

type Bottle = { id: string; siteId: string; gasKg: number; isOut: boolean; isEmpty: boolean }
type Rig = {
  id: string
  siteId: string
  groupId: string
  factor: number
  on: Bottle
  truly: Bottle
}

class Company {
  readonly readings: TrailReading[] = []
  readonly works: TrailWork[] = []
  readonly planted: Planted[] = []
  readonly bottles: Bottle[] = []
  constructor(readonly chance: Chance) {}

  read(bottle: Bottle, kind: TrailReading['kind'], atMs: number, rig: Rig | null, trueKg: number) {
    const isFilled = kind === 'filled'
    const u = isFilled ? FILLED_U_KG : READ_U_KG
    const gasKg = isFilled ? FULL_KG : Math.max(0, this.chance.normal(trueKg, u))
    this.readings.push({
      id: `r${this.readings.length}`,
      cylinderId: bottle.id,
      sizeId: 'large',
      nominalKg: FULL_KG,
      heelKg: HEEL_KG,
      siteId: bottle.siteId,
      atMs,
      kind,
      outfitId: rig?.id ?? null,
      gasKg,
      standardUncertaintyKg: u,
      meantAs: () => (isFilled ? [] : meantOf(gasKg)),
    })
  }

  fill(siteId: string, atMs: number): Bottle {
    const bottle: Bottle = {
      id: `c${this.bottles.length}`,
      siteId,
      gasKg: this.chance.normal(FULL_KG, FILLED_U_KG),
      isOut: false,
      isEmpty: false,
    }
    this.bottles.push(bottle)
    this.read(bottle, 'filled', atMs, null, bottle.gasKg)
    return bottle
  }

  next(siteId: string, atMs: number): Bottle {
    const found = this.bottles.find((one) => one.siteId === siteId && !one.isOut && one.gasKg > 8)
    const bottle = found ?? this.fill(siteId, atMs - 60_000)
    bottle.isOut = true
    return bottle
  }
}

const psiOf = (gasKg: number) => Math.round(((gasKg / FULL_KG) * FULL_PSI) / 10) * 10
const kgOf = (psi: number) => (psi / FULL_PSI) * FULL_KG
const meantOf = (gasKg: number) =>
  meantValues({ value: psiOf(gasKg), unit: 'psi' })
    .filter(({ value }) => value <= 3000)
    .map(({ how, value }) => ({ how, gasKg: kgOf(value) }))

/** Takes gas for one day's work; swaps where one is used up, once without a word where that is planted. */
function draw(
  company: Company,
  rig: Rig,
  day: Readonly<{ kg: number; fromMs: number; forgets: boolean }>,
) {
  let { kg: left, forgets } = day
  for (let swaps = 0; left > 0 && swaps < 5; swaps += 1) {
    const taken = Math.min(left, Math.max(0, rig.truly.gasKg - HEEL_KG))
    rig.truly.gasKg -= taken
    left -= taken
    if (left <= 0) return
    const atMs = day.fromMs + (1 - left / day.kg) * 6 * HOUR_MS
    const fresh = company.next(rig.siteId, atMs)
    if (forgets) {
      company.planted.push({ kind: 'swap_not_logged', cylinderIds: [rig.on.id, fresh.id], atMs })
      fresh.isOut = true
      rig.truly = fresh
      forgets = false
      continue
    }
    company.read(rig.on, 'taken_off', atMs, rig, rig.truly.gasKg)
    rig.on.isEmpty = true
    if (rig.truly !== rig.on) rig.truly.isEmpty = true
    company.read(fresh, 'put_on', atMs, rig, fresh.gasKg)
    rig.on = fresh
    rig.truly = fresh
  }
}

/** In the rack the keeper reads what stands longest, and what is planted to leak. */
function readRack(company: Company, siteId: string, atMs: number) {
  const hangs = new Set(company.bottles.filter((one) => one.isOut).map((one) => one.id))
  const leaking = company.planted.find((one) => one.kind === 'leak_idle')?.cylinderIds[0]
  const standing = company.bottles
    .filter((one) => one.siteId === siteId && (!hangs.has(one.id) || one.isEmpty))
    .filter((one, i, all) => one.id === leaking || i >= all.length - 4)
  for (const one of standing) company.read(one, 'read', atMs, null, one.gasKg)
}

/**
 * A company of two sites and four outfits over a hundred days, each reading and each day's work with
 * chance as stated, and the faults that are asked for hidden in it.
 */
export function simulateCompany(seed: string, faults: readonly FaultKind[]): SimulatedCompany {
  const chance = openChance(seed)
  const company = new Company(chance)
  const startMs = Date.UTC(2026, 0, 5)
  const rigs: Rig[] = ['north', 'south'].flatMap((siteId) => {
    for (let i = 0; i < 12; i += 1) company.fill(siteId, startMs)
    const factor = chance.between(0.85, 1.3)
    return [1, 2].map((number): Rig => {
      const on = company.next(siteId, startMs)
      const rig = { id: `${siteId} ${number}`, siteId, groupId: siteId, factor, on, truly: on }
      company.read(on, 'put_on', startMs + HOUR_MS, rig, on.gasKg)
      return rig
    })
  })
  const dayOf = (kind: FaultKind) => (faults.includes(kind) ? chance.whole(25, 60) : -1)
  const days = {
    leak: dayOf('leak_idle'),
    swap: dayOf('swap_not_logged'),
    typed: dayOf('reading_mistyped'),
    unlogged: dayOf('work_not_logged'),
  }
  const leakKg = chance.between(0.06, 0.09)
  const state = { isSwapOwed: false, isTypedOwed: false }
  for (let day = 0; day < DAYS; day += 1) {
    const dayMs = startMs + (day + 1) * DAY_MS
    if (day === days.leak) plantLeak(company, dayMs)
    const leaking = company.planted.find((one) => one.kind === 'leak_idle')
    for (const one of company.bottles)
      if (one.id === leaking?.cylinderIds[0]) one.gasKg = Math.max(0, one.gasKg - leakKg)
    state.isSwapOwed ||= day === days.swap
    state.isTypedOwed ||= day === days.typed
    for (const [i, rig] of rigs.entries()) {
      const expectedKg = chance.between(2, 6)
      const kg = expectedKg * rig.factor * chance.normal(1, WORK_SCATTER)
      const fromMs = dayMs + 8 * HOUR_MS
      const willSwap = rig.truly.gasKg - HEEL_KG < kg
      const forgets = state.isSwapOwed && i === 1 && willSwap && rig.truly === rig.on
      if (forgets) state.isSwapOwed = false
      draw(company, rig, { kg, fromMs, forgets })
      const toMs = fromMs + 6 * HOUR_MS
      const { id: outfitId, groupId } = rig
      company.works.push({ outfitId, jobId: `job ${groupId}`, groupId, fromMs, toMs, expectedKg })
      if (day === days.unlogged && i === 2) plantUnlogged(company, rig, fromMs)
      company.read(rig.on, 'read', dayMs + 16 * HOUR_MS, rig, rig.truly.gasKg)
      if (state.isTypedOwed && i === 3) state.isTypedOwed = !plantMistyped(company)
    }
    if (day % 7 === 4)
      for (const site of ['north', 'south']) readRack(company, site, dayMs + 18 * HOUR_MS)
  }
  const readings = company.readings.sort((a, b) => a.atMs - b.atMs)
  return { trail: { readings, works: company.works }, planted: company.planted }
}

function plantLeak(company: Company, atMs: number) {
  const bottle = company.fill('north', atMs)
  bottle.isOut = true
  bottle.isEmpty = true
  company.planted.push({ kind: 'leak_idle', cylinderIds: [bottle.id], atMs })
}

/** Gas that went into work nobody wrote down: the day's entry is taken out again. */
function plantUnlogged(company: Company, rig: Rig, atMs: number) {
  company.works.pop()
  company.planted.push({ kind: 'work_not_logged', cylinderIds: [rig.on.id], atMs })
}

/** The last reading typed wrong, where that is far enough from what was read to be seen at all. */
function plantMistyped(company: Company): boolean {
  const last = company.readings.at(-1)
  if (!last) return false
  const wrong = meantOf(last.gasKg)
    .map((one) => one.gasKg)
    .filter((gasKg) => Math.abs(gasKg - last.gasKg) > 4 && gasKg <= FULL_KG)
  const gasKg = wrong[0]
  if (gasKg === undefined) return false
  company.readings[company.readings.length - 1] = { ...last, gasKg, meantAs: () => meantOf(gasKg) }
  company.planted.push({
    kind: 'reading_mistyped',
    cylinderIds: [last.cylinderId],
    atMs: last.atMs,
  })
  return true
}

const DAYS_NEAR = 2

/** Whether a fault stands in the best set of some finding: nothing that fits better, all that fits as well. */
export function isNamed(
  { kind, cylinderIds, atMs }: Planted,
  findings: readonly Finding[],
): boolean {
  return findings.some(({ hypotheses }) =>
    hypotheses.some(
      (one) =>
        one.isEqualFirst &&
        one.kind === kind &&
        one.cylinderIds.some((id) => cylinderIds.includes(id)) &&
        one.toMs >= atMs - DAY_MS &&
        (kind === 'leak_idle' || one.fromMs <= atMs + DAYS_NEAR * DAY_MS),
    ),
  )
}
