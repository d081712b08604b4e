import fc from 'fast-check'
import type { Conditions } from '@/lib/rules/conditions'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { COMPANY_LAYER, RULESETS } from '@/lib/rules/layers'
import type { Layer } from '@/lib/rules/types'
import { RULESET_IDS } from '@/lib/rules/types'

const feet = fc.oneof(
  fc.constantFrom(0, 34.9, 35, 35.1, 199, 200),
  fc.integer({ min: 0, max: 250 }),
)
const opening = fc.record({
  kind: fc.constantFrom('wall' as const, 'floor' as const, 'duct' as const, 'shaft' as const),
  distanceFt: feet,
  exposesCombustible: fc.boolean(),
  canClose: fc.boolean(),
})
const person = fc.constantFrom('p1', 'p2', 'p3')

/** Conditions that differ from the ordinary ones in any number of fields. */
export const conditions: fc.Arbitrary<Conditions> = fc
  .record(
    {
      process: fc.constantFrom(
        'oxyfuel_cutting',
        'mig_welding',
        'torch_roofing',
        'hot_tapping',
        'arc_welding',
      ),
      indoors: fc.boolean(),
      enclosed: fc.boolean(),
      areaClass: fc.constantFrom('designated', 'permit_required', 'non_permissible'),
      areaAuthorized: fc.boolean(),
      inspectedBefore: fc.boolean(),
      writtenPermit: fc.boolean(),
      coveredProcess: fc.boolean(),
      sprinklerSystem: fc.constantFrom('none', 'in_service', 'impaired'),
      sprinklerHeadNear: fc.boolean(),
      explosiveAtmospherePossible: fc.boolean(),
      dustAccumulation: fc.boolean(),
      bulkIgnitablesNear: fc.boolean(),
      nearestCombustibleFt: fc.option(feet),
      combustibleState: fc.constantFrom(
        'none',
        'movable',
        'in_place',
        'covered',
        'unprotected_open',
        'unprotectable',
        'construction',
      ),
      easilyIgnitedBySparks: fc.boolean(),
      floor: fc.constantFrom('noncombustible', 'combustible'),
      openings: fc.array(opening, { maxLength: 3 }),
      wall: fc.constantFrom('noncombustible', 'combustible', 'metal', 'sandwich_panel'),
      farSideCombustibles: fc.constantFrom('none', 'in_place', 'relocated'),
      pipeContactCombustible: fc.boolean(),
      ductOrConveyor: fc.constantFrom('none', 'running_unprotected', 'shut_down_or_protected'),
      container: fc.constantFrom('none', 'used_uncleaned', 'sealed_hollow', 'live_pipeline'),
      confinedSpace: fc.boolean(),
      oxygenPercent: fc.option(fc.constantFrom(19.4, 19.5, 20.9, 23.5, 23.6)),
      lflPercent: fc.option(fc.constantFrom(0, 10, 10.1)),
      cylindersLocation: fc.constantFrom('outside', 'inside'),
      coating: fc.constantFrom('none', 'unknown', 'lead_paint', 'beryllium', 'zinc'),
      chlorinatedSolventFt: fc.option(feet),
      roles: fc.record({ operator: person, authoriser: person, fireWatch: fc.option(person) }),
      fireWatchOtherDuties: fc.boolean(),
      fireWatchTrained: fc.boolean(),
      ifcPortableIndoorCovered: fc.boolean(),
    } as const,
    { requiredKeys: [] },
  )
  .map((differing) => ({ ...DEFAULT_CONDITIONS, ...differing }) as Conditions)

export const layer: fc.Arbitrary<Layer> = fc.constantFrom(
  ...RULESET_IDS.map((id) => RULESETS[id]),
  COMPANY_LAYER,
)
export const layers = fc.uniqueArray(layer, {
  minLength: 1,
  maxLength: 5,
  selector: (one) => one.id,
})
