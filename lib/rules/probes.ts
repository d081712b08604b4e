import type { Conditions } from './conditions'
import { DEFAULT_CONDITIONS } from './conditions'

/** The published cases take a hot tap's crew for approved until one of them denies it. */
export const PROBE_DEFAULTS: Conditions = { ...DEFAULT_CONDITIONS, crewApproved: true }

/**
 * Cases that a new layer is tried on before it takes effect: the conditions of the published permit
 * vectors, each as what differs from the ordinary ones. Words stand under `rules.probes`.
 *
 * @source the published decision vectors; a test holds this list to them
 */
export const PROBES: readonly { id: string; conditions: Partial<Conditions> }[] = [
  { id: 'pv-002-permit-area-clear', conditions: {} },
  {
    id: 'pv-003-stock-20ft-movable',
    conditions: { nearestCombustibleFt: 20, combustibleState: 'movable' },
  },
  {
    id: 'pv-005-stock-20ft-unprotectable',
    conditions: { nearestCombustibleFt: 20, combustibleState: 'unprotectable' },
  },
  {
    id: 'pv-006-distance-exactly-35',
    conditions: { nearestCombustibleFt: 35, combustibleState: 'in_place' },
  },
  {
    id: 'pv-007-distance-34-9',
    conditions: { nearestCombustibleFt: 34.9, combustibleState: 'in_place' },
  },
  {
    id: 'pv-008-far-but-easy',
    conditions: {
      nearestCombustibleFt: 50,
      combustibleState: 'in_place',
      easilyIgnitedBySparks: true,
      indoors: false,
    },
  },
  {
    id: 'pv-009-combustible-floor',
    conditions: {
      process: 'arc_welding',
      floor: 'combustible',
      nearestCombustibleFt: 0,
      combustibleState: 'construction',
    },
  },
  {
    id: 'pv-011-wall-opening-30ft',
    conditions: {
      openings: [{ kind: 'wall', distanceFt: 30, exposesCombustible: true, canClose: false }],
    },
  },
  {
    id: 'pv-013-wall-opening-40',
    conditions: {
      openings: [{ kind: 'wall', distanceFt: 40, exposesCombustible: true, canClose: false }],
    },
  },
  {
    id: 'pv-014-floor-opening-lower-level',
    conditions: {
      openings: [{ kind: 'floor', distanceFt: 5, exposesCombustible: true, canClose: false }],
      allExposuresVisibleToOneWatcher: false,
    },
  },
  {
    id: 'pv-018-metal-wall-far-side-cleared',
    conditions: { wall: 'metal', farSideCombustibles: 'relocated' },
  },
  { id: 'pv-019-sandwich-panel', conditions: { wall: 'sandwich_panel', process: 'arc_welding' } },
  {
    id: 'pv-020-combustible-covered-metal-roof',
    conditions: { wall: 'metal_combustible_covering', process: 'arc_welding' },
  },
  { id: 'pv-021-pipe-through-timber', conditions: { pipeContactCombustible: true } },
  { id: 'pv-022-duct-running', conditions: { ductOrConveyor: 'running_unprotected' } },
  { id: 'pv-023-duct-stopped', conditions: { ductOrConveyor: 'shut_down_or_protected' } },
  { id: 'pv-024-sprinkler-impaired', conditions: { sprinklerSystem: 'impaired' } },
  {
    id: 'pv-025-sprinkler-near-head',
    conditions: { sprinklerSystem: 'in_service', sprinklerHeadNear: true },
  },
  { id: 'pv-026-detector-near', conditions: { detectionNear: true } },
  {
    id: 'pv-027-area-not-authorized',
    conditions: { areaAuthorized: false, areaClass: 'non_permissible' },
  },
  { id: 'pv-028-explosive-atmosphere', conditions: { explosiveAtmospherePossible: true } },
  { id: 'pv-029-dust', conditions: { dustAccumulation: true } },
  { id: 'pv-030-spray-painting-near', conditions: { flammableFinishingNear: true } },
  { id: 'pv-031-baled-cotton', conditions: { bulkIgnitablesNear: true } },
  { id: 'pv-033-drum-cleaned', conditions: { container: 'used_cleaned_vented_tested' } },
  { id: 'pv-034-sealed-hollow', conditions: { container: 'sealed_hollow' } },
  { id: 'pv-035-tank-outside', conditions: { container: 'flammable_liquid_tank' } },
  {
    id: 'pv-036-hot-tap',
    conditions: { process: 'hot_tapping', container: 'live_pipeline', crewApproved: true },
  },
  {
    id: 'pv-037-hot-tap-unqualified',
    conditions: { process: 'hot_tapping', container: 'live_pipeline', crewApproved: false },
  },
  {
    id: 'pv-039-confined-cylinders-inside',
    conditions: { confinedSpace: true, cylindersLocation: 'inside' },
  },
  {
    id: 'pv-040-torch-roofing',
    conditions: {
      process: 'torch_roofing',
      indoors: false,
      nearestCombustibleFt: 0,
      combustibleState: 'construction',
    },
  },
  { id: 'pv-042-public-access', conditions: { openToOthers: true } },
  {
    id: 'pv-043-extinguisher-35ft',
    conditions: { extinguisher: { ratingA: 2, ratingB: 20, distanceFt: 35 } },
  },
  {
    id: 'pv-044-extinguisher-small',
    conditions: { extinguisher: { ratingA: 1, ratingB: 10, distanceFt: 5 } },
  },
  {
    id: 'pv-045-self-issued',
    conditions: { roles: { operator: 'p1', authoriser: 'p1', fireWatch: 'p3' } },
  },
  {
    id: 'pv-046-operator-as-watch',
    conditions: {
      nearestCombustibleFt: 10,
      combustibleState: 'unprotected_open',
      roles: { operator: 'p1', authoriser: 'p2', fireWatch: 'p1' },
    },
  },
  {
    id: 'pv-047-watch-other-duty',
    conditions: {
      nearestCombustibleFt: 10,
      combustibleState: 'unprotected_open',
      fireWatchOtherDuties: true,
    },
  },
  { id: 'pv-050-lead-paint-open', conditions: { coating: 'lead_paint', indoors: false } },
  { id: 'pv-051-beryllium-enclosed', conditions: { coating: 'beryllium', enclosed: true } },
  { id: 'pv-052-cadmium-enclosed', conditions: { coating: 'cadmium', enclosed: true } },
  { id: 'pv-053-unknown-coating', conditions: { coating: 'unknown' } },
  {
    id: 'pv-054-solvent-150ft',
    conditions: { process: 'mig_welding', chlorinatedSolventFt: 150, solventShielded: false },
  },
  { id: 'pv-055-no-inspection', conditions: { inspectedBefore: false } },
  {
    id: 'pv-056-psm-missing-object',
    conditions: {
      coveredProcess: true,
      permitFields: { dates: true, object: false, precautions: true },
    },
  },
  {
    id: 'pv-200-torch-roof-sprinkler-impaired',
    conditions: {
      process: 'torch_roofing',
      indoors: false,
      nearestCombustibleFt: 0,
      combustibleState: 'construction',
      sprinklerSystem: 'impaired',
    },
  },
  {
    id: 'pv-201-exactly-35-easily-lit',
    conditions: {
      nearestCombustibleFt: 35,
      combustibleState: 'in_place',
      easilyIgnitedBySparks: true,
    },
  },
  {
    id: 'pv-202-floor-opening-far-side-blind',
    conditions: {
      process: 'arc_welding',
      floor: 'combustible',
      nearestCombustibleFt: 0,
      combustibleState: 'construction',
      openings: [{ kind: 'wall', distanceFt: 34, exposesCombustible: true, canClose: false }],
      wall: 'metal',
      farSideCombustibles: 'in_place',
      allExposuresVisibleToOneWatcher: false,
    },
  },
  {
    id: 'pv-203-four-failures-at-once',
    conditions: {
      sprinklerSystem: 'impaired',
      extinguisher: { ratingA: 2, ratingB: 20, distanceFt: 31 },
      roles: { operator: 'p1', authoriser: 'p1', fireWatch: 'p3' },
      inspectedBefore: false,
    },
  },
  {
    id: 'pv-204-watch-needed-none-named',
    conditions: {
      openings: [{ kind: 'wall', distanceFt: 20, exposesCombustible: true, canClose: false }],
      roles: { operator: 'p1', authoriser: 'p2', fireWatch: null },
    },
  },
  {
    id: 'pv-205-watch-untrained',
    conditions: {
      openings: [{ kind: 'wall', distanceFt: 20, exposesCombustible: true, canClose: false }],
      fireWatchTrained: false,
    },
  },
  {
    id: 'pv-206-no-written-permit-covered-process',
    conditions: {
      writtenPermit: false,
      coveredProcess: true,
      permitFields: { dates: false, object: false, precautions: false },
    },
  },
  {
    id: 'pv-207-o2-enriched-confined',
    conditions: {
      confinedSpace: true,
      oxygenPercent: 23.6,
      lflPercent: 0,
      ventilation: true,
      enclosed: true,
    },
  },
  { id: 'pv-208-beryllium-open-air', conditions: { coating: 'beryllium', indoors: false } },
  { id: 'pv-209-portable-indoor-no-program', conditions: { ifcPortableIndoorCovered: false } },
]
