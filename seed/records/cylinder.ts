import type { Action } from '@/lib/access/access'
import type { Row } from '../facts'
import { type Doing, type Scribe, writeRow } from './scribe'

export type CylinderEventKind =
  | 'received'
  | 'moved'
  | 'loaded'
  | 'unloaded'
  | 'put_on'
  | 'taken_off'
  | 'read'
  | 'returned'
  | 'quarantined'

const ACT_OF: Readonly<Record<CylinderEventKind, Action>> = {
  received: 'cylinder:receive',
  moved: 'cylinder:move',
  loaded: 'cylinder:move',
  unloaded: 'cylinder:move',
  put_on: 'cylinder:swap',
  taken_off: 'cylinder:swap',
  read: 'cylinder:read-gauge',
  returned: 'cylinder:move',
  quarantined: 'cylinder:quarantine',
}

const EMPTY_EVENT: Row = {
  to_site_id: null,
  area_id: null,
  outfit_id: null,
  side: null,
  place: null,
  job_id: null,
  permit_id: null,
  swap_id: null,
  delivery_id: null,
  gauge_kpa: null,
  weight_kg: null,
  temperature_k: null,
  contents_kg: null,
  contents_u_kg: null,
  marked_empty: false,
  filled_on: null,
  reason: null,
}

export type CylinderEvent = Readonly<{
  kind: CylinderEventKind
  cylinderId: string
  siteId: string
  columns?: Row
}>

/** Adds events to cylinders' lives, all of one kind; the database moves where they are and what is in them. */
export function writeCylinderEvents(
  scribe: Scribe,
  doing: Doing,
  events: readonly CylinderEvent[],
): void {
  const first = events[0]
  if (!first) return
  const rows = events.map(
    (event): Row => ({
      id: scribe.newId(doing.atMs),
      cylinder_id: event.cylinderId,
      kind: event.kind,
      site_id: event.siteId,
      person_id: doing.personId,
      role_then: doing.role,
      ...EMPTY_EVENT,
      ...event.columns,
    }),
  )
  writeRow(scribe, doing, ACT_OF[first.kind], 'cylinder_events', ...rows)
}

export type SwapMade = Readonly<{
  siteId: string
  outfitId: string
  side: 'oxygen' | 'fuel'
  jobId: string | null
  permitId: string | null
  off: Readonly<{ cylinderId: string; columns: Row }> | null
  on: Readonly<{ cylinderId: string; columns: Row }>
}>

/** One cylinder off and another on, in one act: shut, bled, leak-tested. */
export function writeSwap(scribe: Scribe, doing: Doing, swap: SwapMade): void {
  const id = scribe.newId(doing.atMs)
  const { siteId, outfitId, side, jobId, permitId } = swap
  writeRow(scribe, doing, 'cylinder:swap', 'swaps', {
    id,
    site_id: siteId,
    outfit_id: outfitId,
    side,
    off_cylinder_id: swap.off?.cylinderId ?? null,
    on_cylinder_id: swap.on.cylinderId,
    job_id: jobId,
    permit_id: permitId,
    person_id: doing.personId,
    role_then: doing.role,
    shut_and_bled: true,
    leak_tested: true,
  })
  const where: Row = {
    outfit_id: outfitId,
    side,
    place: 1,
    job_id: jobId,
    permit_id: permitId,
    swap_id: id,
  }
  if (swap.off) {
    const { cylinderId, columns } = swap.off
    writeCylinderEvents(scribe, doing, [
      { kind: 'taken_off', cylinderId, siteId, columns: { ...where, ...columns } },
    ])
  }
  const { cylinderId, columns } = swap.on
  writeCylinderEvents(scribe, doing, [
    { kind: 'put_on', cylinderId, siteId, columns: { ...where, ...columns } },
  ])
}
