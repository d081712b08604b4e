import type { CutCondition, Position } from './estimate-types'
import type { FuelCode } from './gas-data'
import type { Refusal } from './refusal'

/*
 * Figures that no published table gives. Each is judgement from the trade: common practice, no source.
 * They are bounded, shown beside every number that they touch, and kept in this one file. Those in
 * `JUDGEMENTS` can be changed for an estimate, within their bounds.
 */

/** A judged figure: what it is unless changed, and how far it may be changed. */
export type Judgement = { usual: number; min: number; max: number; unit: string }

const times = (usual: number): Judgement => ({ usual, min: 1, max: 3, unit: '1' })

export const JUDGEMENTS = {
  /** Place between machine-like (0: lean and fast) and hand-like (1: rich and slow) ends of the table. */
  handPlace: { usual: 0.6, min: 0, max: 1, unit: '1' },
  machinePlace: { usual: 0.3, min: 0, max: 1, unit: '1' },
  /** Longer cutting time out of position. */
  horizontal: times(1.1),
  vertical: times(1.15),
  overhead: times(1.3),
  awkward: times(1.2),
  /** Longer cutting time, and longer preheat at each start, on a bad surface, cold steel and in wind. */
  dirty: times(1.15),
  painted: times(1.1),
  cold: times(1.1),
  wind: times(1.15),
  /** No pile of multipliers goes above this. */
  mostTimes: { usual: 1.8, min: 1, max: 5, unit: '1' },
  /** Starting at an edge takes about half as long as heating for a pierce. */
  edgeStart: { usual: 0.5, min: 0.1, max: 1, unit: '1' },
  /** A cut that was broken off starts again in hot metal. */
  restart: { usual: 0.5, min: 0, max: 1, unit: '1' },
  /** A hand cut is broken off about once a metre, to move on. */
  handRestartsPerM: { usual: 1, min: 0, max: 10, unit: '1/m' },
  /** Purging both lines and setting the flame, each time the torch is lit. */
  lightUp: { usual: 30, min: 0, max: 600, unit: 's' },
  /** Idle flame between cuts, as a share of cutting time. */
  idleFlame: { usual: 0.15, min: 0, max: 5, unit: '1' },
  /** Torch time as a share of the time spent; going from piece to piece is in it unless it is given. */
  operatingFactor: { usual: 0.3, min: 0.01, max: 1, unit: '1' },
  /** Scatter of one cut around its crew's habit, as a coefficient of variation. */
  cutScatter: { usual: 0.2, min: 0, max: 1, unit: '1' },
  /** A piece above this is rigged: load constant of the NIOSH lifting equation, DHHS 94-110, from memory. */
  rigAbove: { usual: 23, min: 1, max: 1000, unit: 'kg' },
} as const satisfies Record<string, Judgement>

export type JudgementKey = keyof typeof JUDGEMENTS
export type Judged = Readonly<Record<JudgementKey, number>>

/** The judged figures of an estimate: the usual ones, but for those that were changed. */
export function judgedWith(changed: Partial<Record<JudgementKey, number>> = {}): Judged {
  const usual = Object.fromEntries(
    Object.entries(JUDGEMENTS).map(([key, judgement]) => [key, judgement.usual]),
  ) as Record<JudgementKey, number>
  return { ...usual, ...changed }
}

/** Every changed figure that is not one of them or lies outside its bounds. */
export function judgementRefusals(changed: Readonly<Record<string, number>> = {}): Refusal[] {
  return Object.entries(changed).flatMap(([key, value]): Refusal[] => {
    const field = `judgements.${key}`
    const bounds = isJudgementKey(key) ? JUDGEMENTS[key] : null
    if (!bounds)
      return [
        { code: 'UNKNOWN_JUDGEMENT', field, value, limit: { allowed: Object.keys(JUDGEMENTS) } },
      ]
    const { min, max, unit } = bounds
    if (value >= min && value <= max) return []
    return [
      {
        code: 'OUT_OF_RANGE',
        field,
        value: Number.isFinite(value) ? value : null,
        limit: { min, max, unit },
      },
    ]
  })
}

function isJudgementKey(key: string): key is JudgementKey {
  return Object.hasOwn(JUDGEMENTS, key)
}

/** Multiplier of cutting time for a position. */
export function positionTimes(position: Position, judged: Judged): number {
  return position === 'flat' ? 1 : judged[position]
}

/** Conditions that also make each start take longer. */
export const SLOWS_STARTS: Readonly<Record<CutCondition, boolean>> = {
  dirty: true,
  painted: true,
  cold: true,
  wind: true,
  awkward: false,
}

/**
 * Seconds of preheat before piercing, by millimetres. An unsourced trade-school note gives 3 to 5 s at 6 mm
 * and 15 to 20 s at 25 mm; held at 60 s above.
 */
export const PREHEAT_SECONDS = [
  [0, 0],
  [6, 4],
  [25, 17.5],
  [85, 60],
] as const
/** Cooler flames start more slowly. */
export const PREHEAT_FUEL_FACTOR: Readonly<Record<FuelCode, number>> = {
  acetylene: 1,
  propylene: 1.25,
  mps: 1.25,
  propane: 1.5,
  natural_gas: 1.5,
}

/** One lighting for each started hour of torch time when nothing else is said. */
export const LIT_SECONDS_PER_LIGHT_UP = 3600
/** Lighting, and each start, takes half as long or half as much again. */
export const LIGHT_UP_RELATIVE_U = 0.5
export const START_RELATIVE_U = 0.5
/** Doubt about flows and speed that the user gives for a cut, where a table would show its range. */
export const OWN_SETTINGS_RELATIVE_U = 0.2

/** Share of nominal contents that is left in a fuel cylinder when it is changed. */
export const FUEL_HEEL_SHARE = 0.1
/** psig at which an oxygen cylinder is changed. */
export const OXYGEN_CHANGE_AT_PSIG = 150

/** Narrow edge of usual kerfs, mm by mm of thickness: for the floor, never for a size. */
export const KERF_LOW_MM = [
  [0, 1.5],
  [12, 1.5],
  [25, 2],
  [50, 2.5],
  [100, 3.5],
  [150, 4.5],
  [300, 8],
] as const
