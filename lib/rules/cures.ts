import type { ConditionField, Conditions } from './conditions'
import { DEFAULT_CONDITIONS } from './conditions'
import { type Cure, when } from './cure'
import { PAPER_CURES } from './cures-paper'
import { PIECE_CURES } from './cures-piece'
import { PLACE_CURES } from './cures-place'

/** What belongs to the place and stays behind when the piece goes to the designated area. */
const OF_THE_PLACE = [
  'indoors',
  'enclosed',
  'areaAuthorized',
  'coveredProcess',
  'sprinklerSystem',
  'sprinklerHeadNear',
  'detectionNear',
  'explosiveAtmospherePossible',
  'dustAccumulation',
  'bulkIgnitablesNear',
  'flammableFinishingNear',
  'nearestCombustibleFt',
  'combustibleState',
  'easilyIgnitedBySparks',
  'floor',
  'floorDebrisFt',
  'openings',
  'wall',
  'farSideCombustibles',
  'pipeContactCombustible',
  'ductOrConveyor',
  'heightFt',
  'allExposuresVisibleToOneWatcher',
  'confinedSpace',
  'oxygenPercent',
  'lflPercent',
  'cylindersLocation',
  'chlorinatedSolventFt',
  'solventShielded',
  'openToOthers',
  'ifcPortableIndoorCovered',
  'shipyardSpace',
] as const satisfies readonly ConditionField[]

function atTheDesignatedArea(): Partial<Conditions> {
  const ordinary = OF_THE_PLACE.map((field) => [field, DEFAULT_CONDITIONS[field]] as const)
  return { ...Object.fromEntries(ordinary), areaClass: 'designated' }
}

/** Everything people can do, the smallest things first; taking the piece elsewhere comes last. */
export const CURES: readonly Cure[] = [
  ...PLACE_CURES,
  ...PIECE_CURES,
  ...PAPER_CURES,
  {
    code: 'designated_area',
    fields: [...OF_THE_PLACE, 'areaClass'],
    changes: (c) => when(c.areaClass !== 'designated', atTheDesignatedArea()),
  },
]
