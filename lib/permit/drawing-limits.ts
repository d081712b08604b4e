import type { RuleId } from '../rules/catalogue'
import { findRule } from '../rules/catalogue'
import type { LayerId } from '../rules/types'
import { COMPANY_LAYER_ID } from '../rules/types'
import type { DrawnDistance, DrawnMark } from './drawing'
import { farthestFt } from './drawing'

/**
 * closer_than: 34.9 is, 35.0 is not. within: 35.0 still is. any: the text counts it wherever it is.
 * judged: the text gives no number, so a named person judges. at_most: the other way round, the thing
 * must be there.
 */
export type Comparison = 'closer_than' | 'within' | 'at_most' | 'any' | 'judged'
/** How the text counts: as a sphere, or level and height each for itself; null where it does not say. */
export type Direction = 'sphere' | 'each_way' | null

export interface DistanceWording {
  layerId: LayerId
  ruleId: RuleId | null
  comparison: Comparison
  limitFt: number | null
  direction: Direction
  /** Only what is neither moved nor covered counts. */
  isUnprotectedOnly?: true
}

const FIFTEEN_METRES_FT = 15 / 0.3048
const NFPA = ['us-nfpa51b-2014', 'us-nfpa51b-2019', 'us-nfpa241-2022'] as const
const ABROAD = ['uk-jcop10', 'ca-nfc'] as const

const judged = (layerId: LayerId, ruleId: RuleId | null): DistanceWording => ({
  layerId,
  ruleId,
  comparison: 'judged',
  limitFt: null,
  direction: null,
})

/** Each ruleset's words about what burns. Contents trigger below 35 ft; relocation means 35 ft or more. */
const BURNABLE: readonly DistanceWording[] = [
  {
    layerId: 'us-osha-1910',
    ruleId: 'osha1910-fw-trigger-35ft',
    comparison: 'closer_than',
    limitFt: 35,
    direction: null,
  },
  {
    layerId: 'us-osha-1915',
    ruleId: 'osha1915-fw-distance-3d',
    comparison: 'closer_than',
    limitFt: 35,
    direction: 'each_way',
    isUnprotectedOnly: true,
  },
  ...NFPA.map(
    (layerId): DistanceWording => ({
      layerId,
      ruleId: 'nfpa51b-35ft-sphere',
      comparison: 'closer_than',
      limitFt: 35,
      direction: 'sphere',
    }),
  ),
  {
    layerId: 'au-as1674-1',
    ruleId: 'au-as1674-fw-30',
    comparison: 'within',
    limitFt: FIFTEEN_METRES_FT,
    direction: null,
  },
  judged('us-osha-1926', 'osha1926-fw-judgement'),
  judged('us-ifc-2018', 'ifc-combustibles'),
  ...ABROAD.map((layerId) => judged(layerId, null)),
  {
    layerId: COMPANY_LAYER_ID,
    ruleId: null,
    comparison: 'closer_than',
    limitFt: 35,
    direction: 'each_way',
  },
]

/** Each ruleset's words about openings: inside or on the radius. */
const OPENING: readonly DistanceWording[] = [
  {
    layerId: 'us-osha-1910',
    ruleId: 'osha1910-fw-trigger-openings',
    comparison: 'within',
    limitFt: 35,
    direction: null,
  },
  {
    layerId: 'us-osha-1915',
    ruleId: 'osha1915-fw-triggers',
    comparison: 'any',
    limitFt: null,
    direction: null,
  },
  ...NFPA.map(
    (layerId): DistanceWording => ({
      layerId,
      ruleId: 'nfpa51b-fw-triggers',
      comparison: 'within',
      limitFt: 35,
      direction: 'sphere',
    }),
  ),
  {
    layerId: 'au-as1674-1',
    ruleId: 'au-as1674-fw-30',
    comparison: 'within',
    limitFt: FIFTEEN_METRES_FT,
    direction: null,
  },
  judged('us-osha-1926', 'osha1926-both-sides'),
  judged('us-ifc-2018', 'ifc-openings'),
  ...ABROAD.map((layerId) => judged(layerId, null)),
  {
    layerId: COMPANY_LAYER_ID,
    ruleId: null,
    comparison: 'within',
    limitFt: 35,
    direction: 'each_way',
  },
]

const EXTINGUISHER: readonly DistanceWording[] = [
  {
    layerId: 'us-ifc-2018',
    ruleId: 'ifc-extinguisher-30ft',
    comparison: 'at_most',
    limitFt: 30,
    direction: null,
  },
]

export const DISTANCE_WORDINGS = {
  burnable: BURNABLE,
  opening: OPENING,
  extinguisher: EXTINGUISHER,
} as const

/** Whether a thing so far away is caught by a wording; null where a person judges. */
export function isCaught(
  wording: DistanceWording,
  distance: DrawnDistance,
  mark: Pick<DrawnMark, 'burnable' | 'opening'>,
): boolean | null {
  const { comparison, limitFt } = wording
  const state = mark.burnable?.state
  if (wording.isUnprotectedOnly && (state === 'covered' || state === 'movable')) return false
  if (comparison === 'judged') return null
  if (comparison === 'any' || limitFt === null) return true
  if (comparison === 'at_most') return farthestFt(distance) > limitFt
  return comparison === 'closer_than' ? distance.countedFt < limitFt : distance.countedFt <= limitFt
}

/** The wordings of the layers in force, with where each can be read. */
export function wordingsOf(
  kind: keyof typeof DISTANCE_WORDINGS,
  layers: readonly LayerId[],
): readonly (DistanceWording & { citation: string | null })[] {
  return DISTANCE_WORDINGS[kind]
    .filter((wording) => layers.includes(wording.layerId))
    .map((wording) => ({
      ...wording,
      citation: wording.ruleId === null ? null : (findRule(wording.ruleId)?.citation ?? null),
    }))
}
