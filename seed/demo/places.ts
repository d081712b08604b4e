import type { AreaFacts } from '@/lib/permit/survey'
import type { RulesetId } from '@/lib/rules/types'
import type { Post } from '../records/permit'

export type SiteKey = 'yard' | 'mill' | 'harbor' | 'viaduct' | 'dam' | 'depot'

export type AreaPlan = Readonly<{
  key: string
  name: string
  areaClass: 'designated' | 'permit'
  /** Areas that one pair of eyes covers share it. */
  view?: string
  facts: AreaFacts
  posts: readonly string[]
  /** What hangs at each post for the watch to scan, in their order. */
  codes?: readonly string[]
}>

export type SitePlan = Readonly<{
  key: SiteKey
  name: string
  shortName: string
  kind: 'mill' | 'harbor' | 'bridge' | 'demolition' | 'yard' | 'dam'
  zone: string
  address: string
  emergencyWords: string
  shiftEnds: string
  shiftStarts: readonly string[]
  deliveryDays: readonly number[]
  rulesets: readonly RulesetId[]
  areas: readonly AreaPlan[]
}>

const OPEN_AIR: AreaFacts = {
  indoors: false,
  enclosed: false,
  confinedSpace: false,
  sprinklers: false,
  detection: false,
  floor: 'noncombustible',
  wall: 'noncombustible',
  levelFt: 0,
}
const INDOORS: AreaFacts = { ...OPEN_AIR, indoors: true }

const GENERAL: readonly RulesetId[] = ['us-osha-1910', 'us-ifc-2018', 'us-nfpa51b-2019']
const CONSTRUCTION: readonly RulesetId[] = ['us-osha-1926', 'us-ifc-2018', 'us-nfpa51b-2019']

/** The invented places of the demo company; addresses are of no real street. */
export const SITES: readonly SitePlan[] = [
  {
    key: 'yard',
    name: 'Hollin Yard',
    shortName: 'Yard',
    kind: 'yard',
    zone: 'America/New_York',
    address: '12 Hollin Lane',
    emergencyWords: 'Pull station at the shop door, then 911.',
    shiftEnds: '16:00',
    shiftStarts: ['06:00'],
    deliveryDays: [1, 4],
    rulesets: GENERAL,
    areas: [
      {
        key: 'bay-1',
        name: 'Shop bay 1',
        areaClass: 'designated',
        facts: INDOORS,
        posts: ['Bay 1 floor'],
      },
      {
        key: 'lot',
        name: 'Cylinder lot',
        areaClass: 'permit',
        facts: OPEN_AIR,
        posts: ['Lot fence'],
      },
    ],
  },
  {
    key: 'mill',
    name: 'Ostrander Mill',
    shortName: 'Ostrander',
    kind: 'mill',
    zone: 'America/New_York',
    address: '1 Race Road',
    emergencyWords: 'Pull station at stair B, then 911.',
    shiftEnds: '16:30',
    shiftStarts: ['06:00'],
    deliveryDays: [3],
    rulesets: GENERAL,
    areas: [
      {
        key: 'deck-2',
        name: 'Boiler house, deck 2',
        areaClass: 'permit',
        facts: { ...INDOORS, sprinklers: true, levelFt: 24 },
        posts: ['Deck 2', 'Below the hatch', 'Far side of bulkhead'],
      },
      {
        key: 'deck-3',
        name: 'Boiler house, deck 3',
        areaClass: 'permit',
        facts: { ...INDOORS, sprinklers: true, detection: true, levelFt: 36 },
        posts: ['Deck 3', 'Deck 2 below'],
      },
      {
        key: 'stack',
        name: 'Stack platform',
        areaClass: 'permit',
        facts: { ...OPEN_AIR, levelFt: 60 },
        posts: ['Platform', 'Ground below'],
      },
      {
        key: 'pump',
        name: 'Pump floor',
        areaClass: 'permit',
        facts: INDOORS,
        posts: ['Pump floor', 'Pipe trench'],
        codes: ['KM4P-7WQH-2RTD', 'V9CX-3NGA-6JEY'],
      },
    ],
  },
  {
    key: 'harbor',
    name: 'Gull Harbor, pier 9',
    shortName: 'Gull Harbor',
    kind: 'harbor',
    zone: 'America/Los_Angeles',
    address: 'Pier 9, Gull Harbor',
    emergencyWords: 'Harbor radio channel 12, then 911.',
    shiftEnds: '17:00',
    shiftStarts: ['06:00'],
    deliveryDays: [2, 5],
    rulesets: GENERAL,
    areas: [
      {
        key: 'leg-west',
        name: 'Crane leg, west',
        areaClass: 'permit',
        facts: { ...OPEN_AIR, levelFt: 18 },
        posts: ['Leg platform', 'Pier below'],
      },
      {
        key: 'boom',
        name: 'Boom, below deck',
        areaClass: 'permit',
        facts: INDOORS,
        posts: ['Boom rest', 'Engine room side'],
      },
      {
        key: 'apron',
        name: 'Pier apron',
        areaClass: 'permit',
        facts: OPEN_AIR,
        posts: ['Apron', 'Under the pier'],
      },
    ],
  },
  {
    key: 'viaduct',
    name: 'Lowgate Viaduct',
    shortName: 'Lowgate',
    kind: 'bridge',
    zone: 'America/Chicago',
    address: 'Lowgate Road at the river',
    emergencyWords: 'Call 911: "Lowgate Viaduct, north ramp".',
    shiftEnds: '16:30',
    shiftStarts: ['06:00'],
    deliveryDays: [2],
    rulesets: CONSTRUCTION,
    areas: [
      {
        key: 'span-3',
        name: 'Span 3, bearings',
        areaClass: 'permit',
        facts: { ...OPEN_AIR, levelFt: 40 },
        posts: ['Pier cap', 'Road below'],
      },
      {
        key: 'span-4',
        name: 'Span 4, lower flange',
        areaClass: 'permit',
        facts: { ...OPEN_AIR, levelFt: 45 },
        posts: ['Scaffold', 'Bank below'],
      },
      {
        key: 'span-5',
        name: 'Span 5, lower flange',
        areaClass: 'permit',
        facts: { ...OPEN_AIR, levelFt: 45 },
        posts: ['Scaffold', 'Barge below'],
      },
    ],
  },
  {
    key: 'dam',
    name: 'Tolliver Creek Dam',
    shortName: 'Tolliver Creek',
    kind: 'dam',
    zone: 'America/Denver',
    address: 'Dam Road, Tolliver Creek',
    emergencyWords: 'Ring the control room, 4-1-1 on the wall phone, then 911.',
    shiftEnds: '16:00',
    shiftStarts: ['06:00'],
    deliveryDays: [4],
    rulesets: GENERAL,
    areas: [
      {
        key: 'gate-3',
        name: 'Gate 3 gallery',
        areaClass: 'permit',
        facts: INDOORS,
        posts: ['Gallery', 'Stair foot'],
      },
      {
        key: 'trash-rack',
        name: 'Trash rack deck',
        areaClass: 'permit',
        facts: OPEN_AIR,
        posts: ['Rack deck', 'Intake below'],
      },
    ],
  },
  {
    key: 'depot',
    name: 'Marl Street Depot',
    shortName: 'Marl Street',
    kind: 'demolition',
    zone: 'America/Phoenix',
    address: '80 Marl Street',
    emergencyWords: 'Call 911: "Marl Street Depot, gate 2".',
    shiftEnds: '14:30',
    shiftStarts: ['05:00'],
    deliveryDays: [5],
    rulesets: CONSTRUCTION,
    areas: [
      {
        key: 'bay-2',
        name: 'Roof trusses, bay 2',
        areaClass: 'permit',
        facts: { ...INDOORS, levelFt: 22 },
        posts: ['Lift basket', 'Slab below'],
      },
      {
        key: 'bay-5',
        name: 'Crane rails, bay 5',
        areaClass: 'permit',
        facts: { ...INDOORS, levelFt: 18 },
        posts: ['Rail', 'Slab below'],
      },
    ],
  },
]

/** The site with this key. */
export function siteOf(key: SiteKey): SitePlan {
  const site = SITES.find((candidate) => candidate.key === key)
  if (!site) throw new Error(`no site ${key}`)
  return site
}

/** Where an area's rounds go. A post is known by the name that hangs there. */
export const postsOf = ({ posts, codes }: AreaPlan): Post[] =>
  posts.map((name, i) => ({ id: name, name, ...(codes?.[i] ? { code: codes[i] } : {}) }))
