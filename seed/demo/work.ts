import { convert } from '@/lib/calc/units'
import type { CutDims } from '@/lib/schemas/cut-dims'
import type { SiteKey } from './places'

export type WorkingSite = Exclude<SiteKey, 'yard'>

export type CutPlan = Readonly<{
  title: string
  material: 'carbon_steel' | 'low_alloy_steel'
  coating: 'none' | 'lead_paint' | 'zinc'
  position: 'flat' | 'horizontal' | 'vertical' | 'overhead'
  dims: CutDims
}>

const inches = (value: number) => convert({ value, from: 'in', to: 'm' })
const feet = (value: number) => convert({ value, from: 'ft', to: 'm' })
const squareFeet = (value: number) => convert({ value, from: 'ft2', to: 'm2' })

const plate = (thicknessIn: number, lengthFt: number, pieceFt2: number): CutDims => ({
  shape: { kind: 'plate', thicknessM: inches(thicknessIn), lengthM: feet(lengthFt) },
  piece: { areaM2: squareFeet(pieceFt2) },
})
const beam = (designation: string, pieceFt: number): CutDims => ({
  shape: { kind: 'wShape', designation },
  piece: { lengthM: feet(pieceFt) },
})
const pipe = (outsideIn: number, wallIn: number, pieceFt: number): CutDims => ({
  shape: { kind: 'pipe', outsideDiameterM: inches(outsideIn), wallM: inches(wallIn) },
  piece: { lengthM: feet(pieceFt) },
})
const bar = (thicknessIn: number, widthIn: number, pieceFt: number): CutDims => ({
  shape: { kind: 'flatBar', thicknessM: inches(thicknessIn), widthM: inches(widthIn) },
  piece: { lengthM: feet(pieceFt) },
})

const rivet = (shankIn: number): CutDims => ({
  shape: { kind: 'rivetHead', shankDiameterM: inches(shankIn) },
})

const cut = (
  title: string,
  dims: CutDims,
  position: CutPlan['position'] = 'flat',
  coating: CutPlan['coating'] = 'none',
): CutPlan => ({ title, material: 'carbon_steel', coating, position, dims })

/** What each site has to cut, and what its jobs are called. */
export const WORK: Readonly<
  Record<
    WorkingSite,
    Readonly<{
      jobs: number
      daysAJob: readonly [number, number]
      titles: readonly string[]
      cuts: readonly CutPlan[]
    }>
  >
> = {
  mill: {
    jobs: 15,
    daysAJob: [5, 8],
    titles: [
      'Boiler house columns',
      'Feedwater line',
      'Conveyor frame',
      'Ash hopper',
      'Stoker rails',
      'Deck openings',
      'Pump bases',
      'Stack ladder',
    ],
    cuts: [
      cut('Column', beam('W12x50', 12), 'vertical'),
      cut('Beam', beam('W18x50', 15), 'horizontal'),
      cut('Deck plate, 1 in', plate(1, 6, 20)),
      cut('Hopper plate, 3/4 in', plate(0.75, 8, 32), 'vertical'),
      cut('Feedwater pipe, 10 in', pipe(10.75, 0.594, 10), 'horizontal'),
    ],
  },
  harbor: {
    jobs: 10,
    daysAJob: [5, 8],
    titles: [
      'Crane leg, box plates',
      'Boom chords',
      'Mooring bollards',
      'Fender frames',
      'Rail girder',
      'Gangway towers',
    ],
    cuts: [
      cut('Box plate, 1 1/2 in', plate(1.5, 5, 18), 'vertical'),
      cut('Chord plate, 1 in', plate(1, 4, 10), 'overhead'),
      cut('Fender pipe, 16 in', pipe(16, 0.5, 8)),
      cut('Girder', beam('W24x76', 14), 'horizontal'),
    ],
  },
  viaduct: {
    jobs: 10,
    daysAJob: [5, 7],
    titles: [
      'Lower flange, span 1',
      'Lower flange, span 2',
      'Bearings, span 1',
      'Bearings, span 2',
      'Cross frames',
      'Sidewalk brackets',
    ],
    cuts: [
      cut('Flange plate, 2 in', plate(2, 3, 9), 'overhead', 'lead_paint'),
      cut('Web plate, 3/4 in', plate(0.75, 6, 24), 'vertical', 'lead_paint'),
      cut('Cross frame', beam('W12x50', 10), 'horizontal', 'lead_paint'),
      cut('Bearing bar', bar(3, 10, 2)),
    ],
  },
  dam: {
    jobs: 7,
    daysAJob: [5, 7],
    titles: [
      'Gate 1 skin plate',
      'Gate 2 skin plate',
      'Trash rack',
      'Stop log guides',
      'Gallery pipe',
    ],
    cuts: [
      cut('Skin plate, 1 in', plate(1, 5, 20), 'vertical'),
      cut('Rack bar', bar(0.75, 6, 9), 'vertical'),
      cut('Gallery pipe, 8 in', pipe(8.625, 0.5, 6)),
    ],
  },
  depot: {
    jobs: 8,
    daysAJob: [5, 8],
    titles: [
      'Roof trusses, bay 1',
      'Crane rails, bay 4',
      'Mezzanine',
      'Bus lifts',
      'Stair towers',
      'Wash frames',
    ],
    cuts: [
      cut('Truss chord', beam('W14x90', 16), 'overhead'),
      cut('Crane rail girder', beam('W24x76', 20), 'horizontal'),
      cut('Gusset plate, 5/8 in', plate(0.625, 3, 4), 'vertical'),
      cut('Lift plate, 1 1/4 in', plate(1.25, 4, 16)),
    ],
  },
}

/** The job that runs today at each site; the number is what is painted on its board. */
export const CURRENT: Readonly<
  Record<WorkingSite, Readonly<{ number: string; title: string; daysBefore: number }>>
> = {
  mill: { number: '0417', title: 'Boiler house strip-out', daysBefore: 1 },
  harbor: { number: '0409', title: 'Crane leg and boom', daysBefore: 6 },
  viaduct: { number: '0422', title: 'Lower flanges and bearings', daysBefore: 0 },
  dam: { number: '0431', title: 'Gate 3 gallery', daysBefore: 1 },
  depot: { number: '0428', title: 'Roof trusses, bay 2', daysBefore: 0 },
}

/** What is planned next: days from today, how long, and how likely it runs. */
export const PLANNED: readonly Readonly<{
  site: WorkingSite
  number: string
  title: string
  fromDay: number
  days: number
  chance: number
}>[] = [
  { site: 'mill', number: '0433', title: 'Ash line, deck 3', fromDay: 4, days: 4, chance: 0.9 },
  {
    site: 'harbor',
    number: '0434',
    title: 'Fender frames, west',
    fromDay: 5,
    days: 5,
    chance: 0.8,
  },
  {
    site: 'viaduct',
    number: '0435',
    title: 'Cross frames, span 6',
    fromDay: 6,
    days: 4,
    chance: 0.7,
  },
  { site: 'dam', number: '0436', title: 'Trash rack, bay 2', fromDay: 7, days: 3, chance: 0.6 },
  { site: 'depot', number: '0437', title: 'Crane rails, bay 5', fromDay: 3, days: 4, chance: 1 },
]

const named = (
  kind: 'wShape' | 'pipeSize' | 'hss' | 'angle',
  designation: string,
  pieceFt: number,
): CutDims => ({ shape: { kind, designation }, piece: { lengthM: feet(pieceFt) } })

/** Cuts of many shapes that a planned job holds besides those that fell to it. */
export const MORE_CUTS: Readonly<
  Record<string, readonly Readonly<{ cut: CutPlan; count: number }>[]>
> = {
  '0433': [
    {
      cut: cut(
        'Hanger beam, coped',
        {
          shape: { kind: 'wShape', designation: 'W16x31' },
          task: { kind: 'cope', lengthM: inches(6), depthM: inches(2) },
        },
        'overhead',
      ),
      count: 6,
    },
    { cut: cut('Ash line, 8 in', named('pipeSize', '8 sch 40', 10), 'horizontal'), count: 9 },
    {
      cut: cut(
        'Brace, mitered',
        { ...named('hss', 'HSS6x6x3/8', 8), miterDeg: 45, miterOn: 'web', conditions: ['cold'] },
        'vertical',
      ),
      count: 8,
    },
    {
      cut: cut('Rivets of the old trough', { ...rivet(0.875), conditions: ['dirty'] }, 'vertical'),
      count: 120,
    },
    {
      cut: cut(
        'Handrail posts, galvanized',
        { ...named('angle', 'L4x4x3/8', 3.5), conditions: ['wind'] },
        'horizontal',
        'zinc',
      ),
      count: 24,
    },
  ],
}
