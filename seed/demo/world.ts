import type { GasCode } from '@/lib/calc/gas-data'
import type { Fact } from '../facts'
import { namedUuid } from '../ids'
import { type Chance, openChance } from '../random'
import type { Scribe } from '../records/scribe'
import type { SizeId } from '../reference'
import type { CrewKey } from './people'
import type { SiteKey } from './places'

/** The seed of the demo company; seed/README.md names it. */
export const DEMO_SEED = '417'

/** A cylinder as it truly is; what the records say of it is what the events tell. */
export type Bottle = {
  readonly id: string
  readonly serial: string
  readonly sizeId: SizeId
  readonly gas: GasCode
  readonly supplier: SupplierKey
  readonly tareKg: number
  /** The stamp is never quite right. */
  readonly trueTareKg: number
  readonly dueMonth: string
  gasKg: number
  site: SiteKey | null
  rig: string | null
  /** As people on site believe. */
  believed: 'full' | 'partial' | 'empty'
  arrivedMs: number
  /** At the filler's until then. */
  backFrom: string
}

export type SupplierKey = 'marrowby' | 'pell'
export type Side = 'oxygen' | 'fuel'

/** A numbered outfit with what hangs on it. `truly` differs only after a swap that nobody logged. */
export type Rig = {
  readonly id: string
  readonly number: string
  readonly site: SiteKey
  readonly fuel: GasCode
  readonly sizes: Readonly<Record<Side, SizeId>>
  on: Record<Side, Bottle | null>
  truly: Record<Side, Bottle | null>
  /** The next swap of its oxygen will not be written down. */
  forgetsNext: boolean
}

export type World = {
  readonly nowMs: number
  readonly startMs: number
  readonly chance: Chance
  readonly scribe: Scribe
  readonly facts: Fact[]
  readonly bottles: Bottle[]
  readonly rigs: Rig[]
  readonly siteIds: Readonly<Record<SiteKey, string>>
  readonly crewIds: Readonly<Record<CrewKey, string>>
  readonly personIds: ReadonlyMap<string, string>
  readonly areaIds: ReadonlyMap<string, string>
  /** What was planted, so that README and tests can name it. */
  readonly planted: Planted[]
}

export type PlantedKind =
  | 'slow_leak'
  | 'unlogged_swap'
  | 'mistyped_reading'
  | 'work_outside_permit'
  | 'stop'
  | 'late_round'
export type Planted = Readonly<{
  kind: PlantedKind
  atMs: number
  serials?: readonly string[]
  jobNumber?: string
  subjectId?: string
}>

/** Days of history before today. */
export const HISTORY_DAYS = 364

/** Ids and draws that follow from the seed alone. */
export function openScribe(): Readonly<{ scribe: Scribe; facts: Fact[] }> {
  const facts: Fact[] = []
  const counter = { next: 0 }
  const scribe: Scribe = {
    newId: (atMs) => {
      counter.next += 1
      return namedUuid(`${DEMO_SEED}/${counter.next}`, atMs)
    },
    write: (fact) => {
      facts.push(fact)
    },
  }
  return { scribe, facts }
}

export const demoChance = (): Chance => openChance(DEMO_SEED)

/** The id of a person of the demo company. */
export function personId(world: World, key: string): string {
  const id = world.personIds.get(key)
  if (!id) throw new Error(`no person ${key}`)
  return id
}

/** The id of an area, by `site/area`. */
export function areaId(world: World, site: SiteKey, area: string): string {
  const id = world.areaIds.get(`${site}/${area}`)
  if (!id) throw new Error(`no area ${site}/${area}`)
  return id
}
