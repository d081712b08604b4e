import { UNITS } from '../units'
import { ANGLE_ROWS } from './angles'
import { CHANNEL_ROWS } from './channels'
import { type FlangedRow, poundsPerFootOf } from './flanged'
import { HSS_RECTANGULAR_ROWS, HSS_ROUND_NAMES } from './hss'
import { inchesOf } from './inches'
import { PIPE_ROWS } from './pipe-sizes'
import { REBAR_ROWS } from './rebar'
import { S_SHAPE_ROWS } from './s-shapes'
import { W_SHAPE_ROWS } from './w-shapes'

export const SECTION_FAMILIES = [
  'wShape',
  'sShape',
  'channel',
  'angle',
  'hss',
  'pipeSize',
  'rebar',
] as const
export type SectionFamily = (typeof SECTION_FAMILIES)[number]

export type SectionPart = 'plate' | 'bar' | 'wall' | 'flange' | 'web' | 'leg' | 'head' | 'surface'

/** A run of metal of one thickness. Runs of plane 0 lie across those of plane 1, as flanges do to the web. */
export type SectionRun = {
  part: SectionPart
  count: number
  lengthM: number
  thicknessM: number
  plane: 0 | 1
}

export type NamedSection = {
  name: string
  runs: readonly SectionRun[]
  kgPerM: number
  /** Of a pipe, for the ellipse of a mitre. */
  outsideDiameterM: number | null
  /** Has no edge to start at. */
  isClosed: boolean
}

/** Table that a family's dimensions come from; all are from memory. */
export const SECTION_TABLE_ID: Readonly<Record<SectionFamily, string>> = {
  wShape: 'astm-a6-w',
  sShape: 'astm-a6-s',
  channel: 'astm-a6-c',
  angle: 'astm-a6-l',
  hss: 'astm-a500-hss',
  pipeSize: 'asme-b36-10',
  rebar: 'astm-a615',
}

const inch = (value: number) => value * UNITS.in.toBase
const kgPerMFromLbPerFt = (value: number) => (value * UNITS.lb.toBase) / UNITS.ft.toBase
/** Steel at 490 lb/ft³, which nominal weights go by; 7849 kg/m³. */
const kgPerMFromIn2 = (areaIn2: number) => kgPerMFromLbPerFt((areaIn2 * 490) / 144)
/** Length of a round bar's cut at full depth. */
export const ROUND_SHARE = Math.PI / 4

function flanged(row: FlangedRow): NamedSection {
  const [name, depthIn, widthIn, flangeIn, webIn] = row
  return {
    name,
    runs: [
      {
        part: 'flange',
        count: 2,
        lengthM: inch(widthIn),
        thicknessM: inch(flangeIn),
        plane: 0,
      },
      {
        part: 'web',
        count: 1,
        lengthM: inch(depthIn - 2 * flangeIn),
        thicknessM: inch(webIn),
        plane: 1,
      },
    ],
    kgPerM: kgPerMFromLbPerFt(poundsPerFootOf(name)),
    outsideDiameterM: null,
    isClosed: false,
  }
}

function angle([name, poundsPerFoot]: (typeof ANGLE_ROWS)[number]): NamedSection {
  const [legA = 0, legB = 0, thick = 0] = name.slice(1).split('x').map(inchesOf)
  const leg = (lengthIn: number, plane: 0 | 1) =>
    ({
      part: 'leg',
      count: 1,
      lengthM: inch(lengthIn),
      thicknessM: inch(thick),
      plane,
    }) as const
  return {
    name,
    runs: [leg(legA, 0), leg(legB - thick, 1)],
    kgPerM: kgPerMFromLbPerFt(poundsPerFoot),
    outsideDiameterM: null,
    isClosed: false,
  }
}

/** Corners outside are of twice the wall, so the middle of a corner is a quarter circle of 1.5 walls. */
function rectangularHss(sides: string, wall: string): NamedSection {
  const [sideA = 0, sideB = 0] = sides.split('x').map(inchesOf)
  const thick = inchesOf(wall)
  const pair = (sideIn: number, plane: 0 | 1) =>
    ({
      part: 'wall',
      count: 1,
      lengthM: inch(2 * (sideIn - 4 * thick) + 1.5 * Math.PI * thick),
      thicknessM: inch(thick),
      plane,
    }) as const
  const areaIn2 = 2 * thick * (sideA + sideB - 8 * thick) + 3 * Math.PI * thick ** 2
  return {
    name: `HSS${sides}x${wall}`,
    runs: [pair(sideA, 0), pair(sideB, 1)],
    kgPerM: kgPerMFromIn2(areaIn2),
    outsideDiameterM: null,
    isClosed: true,
  }
}

function tube(name: string, outsideIn: number, wallIn: number): NamedSection {
  const lengthIn = Math.PI * (outsideIn - wallIn)
  return {
    name,
    runs: [{ part: 'wall', count: 1, lengthM: inch(lengthIn), thicknessM: inch(wallIn), plane: 0 }],
    kgPerM: kgPerMFromIn2(lengthIn * wallIn),
    outsideDiameterM: inch(outsideIn),
    isClosed: true,
  }
}

function roundHss(name: string): NamedSection {
  const [outside = 0, wall = 0] = name.slice(3).split('x').map(Number)
  return tube(name, outside, wall)
}

function rebar([name, diameterIn, poundsPerFoot]: (typeof REBAR_ROWS)[number]): NamedSection {
  const diameterM = inch(diameterIn)
  return {
    name,
    runs: [
      {
        part: 'bar',
        count: 1,
        lengthM: ROUND_SHARE * diameterM,
        thicknessM: diameterM,
        plane: 0,
      },
    ],
    kgPerM: kgPerMFromLbPerFt(poundsPerFoot),
    outsideDiameterM: null,
    isClosed: false,
  }
}

function byName(sections: readonly NamedSection[]): ReadonlyMap<string, NamedSection> {
  return new Map(sections.map((section) => [section.name, section]))
}

const pipeName = (size: string, schedule: string) =>
  /^\d/.test(schedule) ? `${size} sch ${schedule}` : `${size} ${schedule}`

const SECTIONS: Readonly<Record<SectionFamily, ReadonlyMap<string, NamedSection>>> = {
  wShape: byName(W_SHAPE_ROWS.map(flanged)),
  sShape: byName(S_SHAPE_ROWS.map(flanged)),
  channel: byName(CHANNEL_ROWS.map(flanged)),
  angle: byName(ANGLE_ROWS.map(angle)),
  hss: byName([
    ...HSS_RECTANGULAR_ROWS.flatMap(([sides, walls]) =>
      walls.split(' ').map((wall) => rectangularHss(sides, wall)),
    ),
    ...HSS_ROUND_NAMES.map(roundHss),
  ]),
  pipeSize: byName(
    PIPE_ROWS.flatMap(([size, outsideIn, walls]) =>
      Object.entries(walls).map(([schedule, wallIn]) =>
        tube(pipeName(size, schedule), outsideIn, wallIn),
      ),
    ),
  ),
  rebar: byName(REBAR_ROWS.map(rebar)),
}

/**
 * Dimensions of a section by its name.
 *
 * @param family of section; name as `sectionNames` gives it
 * @returns its runs (m) and kg per metre (nominal weight; for HSS and pipe geometry at 490 lb/ft³), or
 *   undefined when the table has no such name
 * @source ASTM A6, A500, A615 and ASME B36.10, from memory
 */
export function namedSection(family: SectionFamily, name: string): NamedSection | undefined {
  return SECTIONS[family].get(name)
}

/** Every name of a family, in the order of its table. */
export function sectionNames(family: SectionFamily): readonly string[] {
  return [...SECTIONS[family].keys()]
}

const FAMILIES: ReadonlySet<string> = new Set(SECTION_FAMILIES)

/** True for a family whose sections are known by name. */
export function isSectionFamily(kind: string): kind is SectionFamily {
  return FAMILIES.has(kind)
}

const LETTERS: Readonly<Record<SectionFamily, string>> = {
  wShape: 'W',
  sShape: 'S',
  channel: 'C',
  angle: 'L',
  hss: 'HSS',
  pipeSize: '',
  rebar: '#',
}

/** The table's name for what was typed: `w 12 × 50` is `W12x50`, `6" SCH40` is `6 sch 40`. */
export function sectionNameOf(family: SectionFamily, typed: string): string {
  const plain = typed.replaceAll('×', 'x').replaceAll('"', '').trim()
  if (family === 'pipeSize') return pipeNameOf(plain)
  const rest = plain.replaceAll(' ', '').toLowerCase()
  const letters = LETTERS[family]
  const bare = rest.startsWith(letters.toLowerCase()) ? rest.slice(letters.length) : rest
  return `${letters}${bare}`
}

function pipeNameOf(plain: string): string {
  const match = /^(\S+?)(?:\s*(?:in|nps))?\s*(?:sch(?:edule)?\.?\s*)?(\d+|std|xs|xxs)$/i.exec(plain)
  const [, size, schedule] = match ?? []
  return size && schedule ? pipeName(size, schedule.toUpperCase()) : plain
}
