import type { Conditions } from './conditions'
import { DEFAULT_CONDITIONS } from './conditions'
import { type Cure, when } from './cure'

const STAYS: readonly Conditions['combustibleState'][] = [
  'movable',
  'in_place',
  'covered',
  'unprotected_open',
  'unprotectable',
]
const AIR_RANGE = { minPct: 19.5, belowPct: 22 }
const NORMAL_OXYGEN_PCT = 20.9

function isAirBad({ explosiveAtmospherePossible, oxygenPercent, lflPercent }: Conditions): boolean {
  const isOut =
    oxygenPercent !== null &&
    (oxygenPercent < AIR_RANGE.minPct || oxygenPercent >= AIR_RANGE.belowPct)
  return explosiveAtmospherePossible || isOut || (lflPercent ?? 0) > 0
}

/** What can be done about the place. */
export const PLACE_CURES: readonly Cure[] = [
  {
    code: 'combustibles_away',
    fields: ['combustibleState', 'nearestCombustibleFt', 'easilyIgnitedBySparks'],
    changes: (c) =>
      when(STAYS.includes(c.combustibleState), {
        combustibleState: 'none',
        nearestCombustibleFt: null,
        easilyIgnitedBySparks: false,
      }),
  },
  {
    code: 'combustibles_covered',
    fields: ['combustibleState'],
    changes: (c) =>
      when(['in_place', 'unprotected_open'].includes(c.combustibleState), {
        combustibleState: 'covered',
      }),
  },
  {
    code: 'floor_swept',
    fields: ['floorDebrisFt'],
    changes: (c) => when(c.floorDebrisFt !== null, { floorDebrisFt: null }),
  },
  {
    code: 'openings_closed',
    fields: ['openings'],
    changes: (c) =>
      when(
        c.openings.some((one) => !one.canClose),
        { openings: c.openings.map((one) => ({ ...one, canClose: true })) },
      ),
  },
  {
    code: 'nothing_beyond_openings',
    fields: ['openings'],
    changes: (c) =>
      when(
        c.openings.some((one) => one.exposesCombustible),
        { openings: c.openings.map((one) => ({ ...one, exposesCombustible: false })) },
      ),
  },
  {
    code: 'far_side_cleared',
    fields: ['farSideCombustibles'],
    changes: (c) =>
      when(c.farSideCombustibles === 'in_place', { farSideCombustibles: 'relocated' }),
  },
  {
    code: 'metal_parted',
    fields: ['pipeContactCombustible'],
    changes: (c) => when(c.pipeContactCombustible, { pipeContactCombustible: false }),
  },
  {
    code: 'duct_stopped',
    fields: ['ductOrConveyor'],
    changes: (c) =>
      when(c.ductOrConveyor === 'running_unprotected', {
        ductOrConveyor: 'shut_down_or_protected',
      }),
  },
  {
    code: 'sprinklers_restored',
    fields: ['sprinklerSystem'],
    changes: (c) => when(c.sprinklerSystem === 'impaired', { sprinklerSystem: 'in_service' }),
  },
  {
    code: 'air_good',
    fields: ['explosiveAtmospherePossible', 'oxygenPercent', 'lflPercent'],
    changes: (c) =>
      when(isAirBad(c), {
        explosiveAtmospherePossible: false,
        oxygenPercent: c.oxygenPercent === null ? null : NORMAL_OXYGEN_PCT,
        lflPercent: c.lflPercent === null ? null : 0,
      }),
  },
  {
    code: 'dust_cleaned',
    fields: ['dustAccumulation'],
    changes: (c) => when(c.dustAccumulation, { dustAccumulation: false }),
  },
  {
    code: 'painting_apart',
    fields: ['flammableFinishingNear'],
    changes: (c) => when(c.flammableFinishingNear, { flammableFinishingNear: false }),
  },
  {
    code: 'bulk_away',
    fields: ['bulkIgnitablesNear'],
    changes: (c) => when(c.bulkIgnitablesNear, { bulkIgnitablesNear: false }),
  },
  {
    code: 'others_kept_out',
    fields: ['openToOthers'],
    changes: (c) => when(c.openToOthers, { openToOthers: false }),
  },
  {
    code: 'drop_zone_barred',
    fields: ['dropZone'],
    changes: (c) => when(c.dropZone === 'open', { dropZone: 'barred' }),
  },
  {
    code: 'ban_over',
    fields: ['burnBan'],
    changes: (c) => when(c.burnBan, { burnBan: false }),
  },
  {
    code: 'wind_down',
    fields: ['windMph'],
    changes: (c) => when((c.windMph ?? 0) > 0, { windMph: 0 }),
  },
  {
    code: 'extinguisher_brought',
    fields: ['extinguisher'],
    changes: (c) =>
      when(
        c.extinguisher.ratingA < 2 || c.extinguisher.ratingB < 20 || c.extinguisher.distanceFt > 30,
        { extinguisher: DEFAULT_CONDITIONS.extinguisher },
      ),
  },
  {
    code: 'program_covers',
    fields: ['ifcPortableIndoorCovered'],
    changes: (c) => when(!c.ifcPortableIndoorCovered, { ifcPortableIndoorCovered: true }),
  },
]
