import { gaugeKpaFromPsig, psigFromGaugeKpa } from '@/lib/calc/units'
import { writeCylinderEvents } from '../records/cylinder'
import type { Doing } from '../records/scribe'
import { writeRow } from '../records/scribe'
import { sizeOf } from '../reference'
import { atLocal } from '../zones'
import { as, type PermitRun } from './permit-life'
import { siteOf } from './places'
import { airTemperatureK, observe, observedColumns, observedFrom } from './readings'
import type { JobSlot } from './schedule'
import { fullAt } from './stock'
import { type Bottle, personId, type World } from './world'

/** Which days carry a planted fault. Keys are `job/index of the permit's day`. */
export type Faults = {
  readonly unloggedOn: Map<string, number>
  readonly stopsOn: Set<string>
  outsideOn: string
  leaking: Bottle | null
  choose: (slots: readonly JobSlot[]) => void
}

/** Kilograms a day out of a valve that does not quite shut: a third of a cylinder in a hundred days. */
const LEAK_KG_PER_DAY = 0.03

export function openFaults(): Faults {
  const faults: Faults = {
    unloggedOn: new Map(),
    stopsOn: new Set(),
    outsideOn: '',
    leaking: null,
    choose: (slots) => {
      const past = (site: string) => slots.filter((slot) => slot.site === site && !slot.isCurrent)
      const nth = (site: string, n: number) => past(site)[n]?.number ?? ''
      faults.unloggedOn.set(`${nth('viaduct', 6)}/1`, 2)
      faults.unloggedOn.set(`${nth('harbor', 7)}/1`, 1)
      faults.stopsOn
        .add(`${nth('mill', 3)}/1`)
        .add(`${nth('dam', 2)}/2`)
        .add(`${nth('viaduct', 8)}/1`)
      faults.outsideOn = `${nth('depot', 5)}/2`
    },
  }
  return faults
}

const otis = (world: World, day: string, minute: number): Doing => ({
  atMs: atLocal(siteOf('yard').zone, day, minute),
  personId: personId(world, 'otis'),
  role: 'yard_hand',
})

function readInYard(world: World, bottle: Bottle, doing: Doing, day: string): void {
  const temperatureK = airTemperatureK(siteOf('yard').zone, day, world.chance)
  const columns = observedColumns(observe(bottle, { temperatureK, byGauge: false }, world.chance))
  writeCylinderEvents(world.scribe, doing, [
    { kind: 'read', cylinderId: bottle.id, siteId: world.siteIds.yard, columns },
  ])
}

/** One of the yard's full oxygen cylinders begins to leak. */
export function plantLeak(world: World, faults: Faults, day: string): void {
  const bottle = fullAt(world, 'yard', 'oxygen-244')[0]
  if (!bottle) return
  faults.leaking = bottle
  readInYard(world, bottle, otis(world, day, 10 * 60), day)
  world.planted.push({
    kind: 'slow_leak',
    atMs: atLocal(siteOf('yard').zone, day, 10 * 60),
    serials: [bottle.serial],
  })
}

/** It loses a little each day, and is read each week beside two that keep what they hold. */
export function tendLeaks(world: World, faults: Faults, day: string, offset: number): void {
  const bottle = faults.leaking
  if (!bottle) return
  bottle.gasKg = Math.max(0, bottle.gasKg - LEAK_KG_PER_DAY)
  if (bottle.gasKg < 0.9 * sizeOf(bottle.sizeId).nominalKg) bottle.believed = 'partial'
  if (offset % 7 !== 0) return
  const beside = fullAt(world, 'yard', 'oxygen-244')
    .filter((other) => other !== bottle)
    .slice(0, 2)
  for (const [i, each] of [bottle, ...beside].entries())
    readInYard(world, each, otis(world, day, 10 * 60 + 5 + i), day)
}

/** A gauge read as 1,240 and typed as 2,140: never corrected. */
export function plantMistypedReading(world: World, day: string): void {
  const rig = world.rigs.find((candidate) => candidate.number === '10')
  const bottle = rig?.on.oxygen
  if (!rig || !bottle) return
  const temperatureK = airTemperatureK(siteOf(rig.site).zone, day, world.chance)
  const honest = observe(bottle, { temperatureK, byGauge: false }, world.chance)
  const typedPsi = mistyped(Math.round(psigFromGaugeKpa(honest.gaugeKpa ?? 0)))
  const doing: Doing = {
    atMs: atLocal(siteOf(rig.site).zone, day, 17 * 60),
    personId: personId(world, 'hank'),
    role: 'foreman',
  }
  const wrong = observedFrom(
    { kind: 'gauge', gaugePressureKpa: gaugeKpaFromPsig(typedPsi), temperatureK },
    bottle.sizeId,
  )
  const columns = { outfit_id: rig.id, side: 'oxygen', place: 1, ...observedColumns(wrong) }
  writeCylinderEvents(world.scribe, doing, [
    { kind: 'read', cylinderId: bottle.id, siteId: world.siteIds[rig.site], columns },
  ])
  world.planted.push({ kind: 'mistyped_reading', atMs: doing.atMs, serials: [bottle.serial] })
}

/** Two digits change places; where that would not show, a nought is lost. */
function mistyped(psi: number): number {
  const digits = String(psi).padStart(4, '0')
  const swapped = Number(`${digits[1]}${digits[0]}${digits.slice(2)}`)
  return Math.abs(swapped - psi) >= 300 && swapped <= 2900 ? swapped : Math.round(psi / 10)
}

/** One more cut while the watch was running: a fact outside the permit; the watch starts over. */
export function plantWorkOutside(run: PermitRun, day: string): void {
  const { world, sheet } = run
  const zone = siteOf(run.job.site).zone
  const fromMs = atLocal(zone, day, 17 * 60 + 5)
  const recordedMs = fromMs + 26 * 60_000
  const id = world.scribe.newId(recordedMs)
  writeRow(world.scribe, as(run, 'foreman', recordedMs), 'work:outside', 'work_outside_permit', {
    id,
    site_id: sheet.siteId,
    area_id: sheet.areaId,
    job_id: sheet.jobId,
    permit_id: sheet.id,
    operator_id: sheet.operatorId,
    from_at: new Date(fromMs),
    to_at: new Date(fromMs + 12 * 60_000),
    person_id: personId(world, 'vera'),
    role_then: 'foreman',
    what: 'Freed a hanging gusset',
    why: 'It had started to slip after the permit was closed',
  })
  world.planted.push({ kind: 'work_outside_permit', atMs: recordedMs, subjectId: id })
}
