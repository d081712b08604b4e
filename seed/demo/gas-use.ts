import { type CylinderEvent, writeCylinderEvents, writeSwap } from '../records/cylinder'
import type { Doing } from '../records/scribe'
import { sizeOf } from '../reference'
import type { RunningJob } from './jobs'
import { type Observed, observe, observedColumns } from './readings'
import { fullAt } from './stock'
import type { Bottle, Rig, Side, World } from './world'

/** Where and when gas is drawn. */
export type Drawing = Readonly<{
  rig: Rig
  job: RunningJob | null
  permitId: string | null
  temperatureK: number
  doing: Doing
}>

/** High steel is far from the scale: there, acetylene is read by its gauge. */
const isByGauge = (rig: Rig) => rig.site === 'viaduct'

export function readOf(
  world: World,
  bottle: Bottle,
  drawing: Readonly<{ rig: Rig; temperatureK: number }>,
): Observed {
  return observe(
    bottle,
    { temperatureK: drawing.temperatureK, byGauge: isByGauge(drawing.rig) },
    world.chance,
  )
}

/** What hangs there in truth. */
const trulyOn = (rig: Rig, side: Side): Bottle | null => rig.truly[side] ?? rig.on[side]

/** Gas above the change point. */
export function leftAbove(rig: Rig, side: Side): number {
  const bottle = trulyOn(rig, side)
  return bottle ? Math.max(0, bottle.gasKg - sizeOf(bottle.sizeId).heelKg) : 0
}

/** Changes a side for the next full one on site; false when there is none. */
export function swapSide(world: World, side: Side, drawing: Drawing): boolean {
  const { rig, job, permitId, doing } = drawing
  const next = fullAt(world, rig.site, rig.sizes[side], doing.atMs)[0]
  if (!next) return false
  const off = rig.on[side]
  const truth = trulyOn(rig, side)
  const offRead = truth ? readOf(world, truth, drawing) : null
  const isUsedUp = truth ? leftAbove(rig, side) < 0.02 * sizeOf(truth.sizeId).nominalKg : false
  writeSwap(world.scribe, doing, {
    siteId: world.siteIds[rig.site],
    outfitId: rig.id,
    side,
    jobId: job?.id ?? null,
    permitId,
    off:
      off && offRead
        ? { cylinderId: off.id, columns: { ...observedColumns(offRead), marked_empty: isUsedUp } }
        : null,
    on: { cylinderId: next.id, columns: observedColumns(readOf(world, next, drawing)) },
  })
  if (off) {
    off.rig = null
    off.believed = isUsedUp ? 'empty' : 'partial'
  }
  if (rig.truly[side]) {
    // The one that was never logged comes back to the rack under the other's name.
    const unlogged = rig.truly[side]
    unlogged.rig = null
    rig.truly[side] = null
  }
  next.rig = rig.number
  next.believed = 'partial'
  rig.on[side] = next
  return true
}

/** A swap that nobody writes down: the records go on naming the one that came off. */
function swapUnlogged(world: World, side: Side, drawing: Drawing): boolean {
  const { rig, doing } = drawing
  const next = fullAt(world, rig.site, rig.sizes[side], doing.atMs)[0]
  const off = rig.on[side]
  if (!next || !off || rig.truly[side]) return false
  rig.truly[side] = next
  rig.forgetsNext = false
  // On paper it stands full in the rack; in truth it hangs on the outfit, and the empty one stands in its place.
  next.rig = `${rig.number}, unlogged`
  const serials = [off.serial, next.serial]
  world.planted.push({
    kind: 'unlogged_swap',
    atMs: doing.atMs,
    serials,
    ...(drawing.job ? { jobNumber: drawing.job.number } : {}),
  })
  return true
}

/** Draws gas for one log; swaps as often as it takes. False when the site ran out. */
export function draw(
  world: World,
  side: Side,
  kg: number,
  drawing: Readonly<{ from: Drawing; atMs: (share: number) => number }>,
): boolean {
  const wanted = { left: kg }
  for (let swaps = 0; swaps < 8; swaps += 1) {
    const bottle = trulyOn(drawing.from.rig, side)
    const taken = Math.min(wanted.left, leftAbove(drawing.from.rig, side))
    if (bottle) bottle.gasKg -= taken
    wanted.left -= taken
    if (wanted.left <= 1e-9) return true
    const atMs = drawing.atMs(1 - wanted.left / kg)
    const from = { ...drawing.from, doing: { ...drawing.from.doing, atMs } }
    const isForgotten = side === 'oxygen' && from.rig.forgetsNext
    if (!(isForgotten ? swapUnlogged : swapSide)(world, side, from)) return false
  }
  return false
}

/** Reads both sides of an outfit, as at the start of a job and the end of a day. */
export function readRig(world: World, drawing: Drawing): void {
  const { rig, job, permitId, doing } = drawing
  const siteId = world.siteIds[rig.site]
  const events = (['oxygen', 'fuel'] as const).flatMap((side): CylinderEvent[] => {
    const bottle = rig.on[side]
    const truth = trulyOn(rig, side)
    if (!bottle || !truth) return []
    const columns = {
      outfit_id: rig.id,
      side,
      place: 1,
      job_id: job?.id ?? null,
      permit_id: permitId,
      ...observedColumns(readOf(world, truth, drawing)),
    }
    return [{ kind: 'read', cylinderId: bottle.id, siteId, columns }]
  })
  writeCylinderEvents(world.scribe, doing, events)
}
