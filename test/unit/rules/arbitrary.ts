import fc from 'fast-check'
import type { Conditions } from '@/lib/rules/conditions'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import type { CompanyParameters } from '@/lib/rules/layers'
import { companyLayer, RULESETS, SILENT } from '@/lib/rules/layers'
import { PARAMETER_NAMES, PARAMETER_RULES } from '@/lib/rules/parameters'
import type { Layer, LayerParameters, ParameterName } from '@/lib/rules/types'
import { PRECAUTION_IDS, RULESET_IDS } from '@/lib/rules/types'

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
      oxygenPercent: fc.option(fc.constantFrom(19.4, 19.5, 20.9, 21.9, 22, 23.5, 23.6)),
      lflPercent: fc.option(fc.constantFrom(0, 9.9, 10, 10.1)),
      cylindersLocation: fc.constantFrom('outside', 'inside'),
      coating: fc.constantFrom('none', 'unknown', 'lead_paint', 'beryllium', 'zinc'),
      chlorinatedSolventFt: fc.option(feet),
      roles: fc.record({ operator: person, authoriser: person, fireWatch: fc.option(person) }),
      fireWatchOtherDuties: fc.boolean(),
      fireWatchTrained: fc.boolean(),
      ifcPortableIndoorCovered: fc.boolean(),
      shipyardSpace: fc.constantFrom('none', 'tank_or_adjacent', 'other_space'),
      safeForHotWork: fc.constantFrom('nobody', 'competent_person', 'marine_chemist'),
      dropZone: fc.constantFrom('none', 'barred', 'open'),
      loneOperator: fc.boolean(),
      burnBan: fc.boolean(),
      windMph: fc.option(fc.constantFrom(0, 9.9, 10, 15, 15.1, 40)),
      crewApproved: fc.boolean(),
    } as const,
    { requiredKeys: [] },
  )
  .map((differing) => ({ ...DEFAULT_CONDITIONS, ...differing }) as Conditions)

/** The same where hardly a ruleset forbids the work: the places, openings and people still vary. */
export const workable: fc.Arbitrary<Conditions> = conditions.map((c) => ({
  ...c,
  areaClass: c.areaClass === 'non_permissible' ? 'permit_required' : c.areaClass,
  areaAuthorized: true,
  inspectedBefore: true,
  writtenPermit: true,
  sprinklerSystem: c.sprinklerSystem === 'impaired' ? 'in_service' : c.sprinklerSystem,
  explosiveAtmospherePossible: false,
  dustAccumulation: false,
  bulkIgnitablesNear: false,
  combustibleState: c.combustibleState === 'unprotectable' ? 'covered' : c.combustibleState,
  wall: c.wall === 'sandwich_panel' ? 'metal' : c.wall,
  pipeContactCombustible: false,
  ductOrConveyor: 'none',
  container: 'none',
  process: c.process === 'hot_tapping' ? 'torch_roofing' : c.process,
  oxygenPercent: 20.9,
  lflPercent: 0,
  cylindersLocation: 'outside',
  coating: c.coating === 'unknown' ? 'zinc' : c.coating,
  chlorinatedSolventFt: null,
  roles: DEFAULT_CONDITIONS.roles,
  fireWatchOtherDuties: false,
  fireWatchTrained: true,
  safeForHotWork: 'marine_chemist',
  dropZone: 'none',
  loneOperator: false,
  burnBan: false,
  windMph: 0,
}))

/** Any value that may be typed in for a parameter, and silence. */
function typedIn(name: ParameterName): fc.Arbitrary<number | boolean | null> {
  const { kind, min, max } = PARAMETER_RULES[name]
  if (kind === 'flag') return fc.boolean()
  const known = [0, 5, 8, 10, 19.5, 20, 22, 23.5, 24, 30, 60, 120, 240].filter(
    (value) => value >= min && value <= max,
  )
  return fc.option(fc.constantFrom(min, max, ...known))
}
const parameters = fc.record(
  Object.fromEntries(PARAMETER_NAMES.map((name) => [name, typedIn(name)])),
  { requiredKeys: [] },
)

/** A layer that nobody has written yet: any parameters, any known precautions. */
export const localLayer: fc.Arbitrary<Layer> = fc
  .record({
    name: fc.constantFrom('city', 'county', 'host'),
    parameters,
    precautions: fc.subarray([...PRECAUTION_IDS], { maxLength: 4 }),
  })
  .map((typed) => ({
    ...RULESETS['us-osha-1910'],
    id: `local:${typed.name}`,
    provenance: 'memory',
    parameters: { ...SILENT, ...(typed.parameters as Partial<LayerParameters>) },
    parameterRules: {},
    precautions: typed.precautions,
  }))

/** The company's layer with any numbers, and every number that it must settle settled. */
const company: fc.Arbitrary<Layer> = parameters.map((typed) => {
  const settled = Object.entries(typed).filter(([, value]) => value !== null)
  const changes = Object.fromEntries(settled) as Partial<CompanyParameters>
  return companyLayer(2, { ...changes, surveyMayEndWatch: false })
})

export const layer: fc.Arbitrary<Layer> = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...RULESET_IDS.map((id) => RULESETS[id])) },
  { weight: 2, arbitrary: localLayer },
  { weight: 1, arbitrary: company },
)
export const layers = fc.uniqueArray(layer, {
  minLength: 1,
  maxLength: 6,
  selector: (one) => one.id,
})
