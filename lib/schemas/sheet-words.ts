import { MATERIAL_CODES } from '../calc/materials'
import { COATINGS, CUT_SHAPES, POSITIONS } from './cut'
import type { SheetColumn } from './sheet-columns'

/** What a row may say besides its measures. */
export const ROW_CONDITIONS = ['pierced', 'dirty', 'awkward'] as const

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
    rebar: 'round_bar',
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
  position: { level: 'flat', horiz: 'horizontal', vert: 'vertical', over: 'overhead' },
}

const CODES: Readonly<Partial<Record<SheetColumn, readonly string[]>>> = {
  shape: CUT_SHAPES,
  material: MATERIAL_CODES,
  coating: COATINGS,
  position: POSITIONS,
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
