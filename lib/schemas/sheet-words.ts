import { COATING_CODES, MATERIAL_CODES } from '../calc/materials'
import { POSITIONS } from './cut'
import { CUT_CONDITIONS } from './cut-dims'
import { CUT_SHAPES, CUT_TASKS } from './cut-shapes'
import type { SheetColumn } from './sheet-columns'

/** What a row may say besides its measures. */
const ROW_CONDITIONS = ['pierced', 'edge', ...CUT_CONDITIONS] as const

const OTHER_CONDITIONS: Readonly<Record<string, (typeof ROW_CONDITIONS)[number]>> = {
  'starts inside': 'pierced',
  'edge start': 'edge',
  scaled: 'dirty',
  rusty: 'dirty',
  paint: 'painted',
  'cold steel': 'cold',
  windy: 'wind',
}

/** What one word under "How it is" means; null when it means nothing to us. */
export function conditionOf(word: string): (typeof ROW_CONDITIONS)[number] | null {
  const plain = word.trim().toLowerCase().replace(/\s+/g, ' ')
  return ROW_CONDITIONS.find((code) => code === plain) ?? OTHER_CONDITIONS[plain] ?? null
}

/** Other words for a code. Common practice, no source. */
const OTHER_WORDS: Readonly<Partial<Record<SheetColumn, Readonly<Record<string, string>>>>> = {
  shape: {
    pl: 'plate',
    flat: 'flat_bar',
    fb: 'flat_bar',
    square: 'square_bar',
    sq: 'square_bar',
    round: 'round_bar',
    rod: 'round_bar',
    'reinforcing bar': 'rebar',
    nps: 'pipe_size',
    'pipe by schedule': 'pipe_size',
    l: 'angle',
    'angle iron': 'angle',
    c: 'channel',
    s: 's_shape',
    'i-beam': 's_shape',
    'square tube': 'hss',
    'rectangular tube': 'hss',
    'structural tube': 'hss',
    rivet: 'rivet_head',
    rivets: 'rivet_head',
    bolt: 'bolt_head',
    bolts: 'bolt_head',
    gouging: 'gouge',
    'wash off': 'wash_off',
    wash: 'wash_off',
    tube: 'pipe',
    w: 'w_shape',
    beam: 'w_shape',
    column: 'w_shape',
  },
  material: {
    steel: 'carbon_steel',
    'mild steel': 'carbon_steel',
    ms: 'carbon_steel',
    a36: 'carbon_steel',
    stainless: 'stainless_steel',
    ss: 'stainless_steel',
    aluminum: 'aluminium',
    brass: 'brass_or_bronze',
    bronze: 'brass_or_bronze',
  },
  coating: {
    bare: 'none',
    'mill scale': 'none',
    'not known': 'unknown',
    paint: 'unknown',
    painted: 'unknown',
    lead: 'lead_paint',
    galvanized: 'zinc',
    galv: 'zinc',
  },
  task: { cut: 'sever', 'cut through': 'sever', through: 'sever', 'bevel edge': 'bevel' },
  part: {
    'on the web': 'web',
    'on the flange': 'flange',
    'first leg': 'flange',
    'second leg': 'web',
    'first side': 'flange',
    'second side': 'web',
  },
  position: { level: 'flat', horiz: 'horizontal', vert: 'vertical', over: 'overhead' },
}

const CODES: Readonly<Partial<Record<SheetColumn, readonly string[]>>> = {
  shape: CUT_SHAPES,
  material: MATERIAL_CODES,
  coating: COATING_CODES,
  position: POSITIONS,
  task: CUT_TASKS,
  part: ['web', 'flange'],
}

/** The code that a cell means, or its text as it stands when it means none: nothing typed is lost. */
export function codeOfWord(column: SheetColumn, text: string): string {
  const word = text.trim().toLowerCase().replace(/\s+/g, ' ')
  const asCode = word.replace(/[\s-]/g, '_')
  const code = CODES[column]?.find((one) => one === asCode)
  return code ?? OTHER_WORDS[column]?.[word] ?? text.trim()
}

/** Columns whose cells are chosen from a list. */
export const isChosen = (column: SheetColumn): boolean => column in CODES

/** The choices of such a column. */
export const choicesOf = (column: SheetColumn): readonly string[] => CODES[column] ?? []
