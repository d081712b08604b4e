import { STORE_RULES, type StoreRuleId } from './store-catalogue'

export type ShadeProcess =
  | 'oxyfuel_cutting'
  | 'oxyfuel_welding'
  | 'torch_brazing'
  | 'torch_soldering'
  | 'carbon_arc'
  | 'smaw'
  | 'mig'
  | 'tig'
  | 'plasma_cutting'

export interface ShadeInput {
  process: ShadeProcess
  /** Plate thickness in inches, for oxy-fuel; null where it is not known: the darkest of the row. */
  thicknessIn?: number | null
  /** Arc current in amperes; null where it is not known: the darkest of the row. */
  amps?: number | null
}

export interface Shade {
  /** The lightest lens that may be worn. */
  minimum: number
  /** The guide range for comfort, where the guide has one; darker may be worn. */
  guide: { least: number; most: number } | null
  ruleIds: readonly StoreRuleId[]
}

type Band = 'light' | 'medium' | 'heavy'
/** 1.0 in of cutting is medium and 6.0 still is; 1/8 in of welding is medium and 1/2 still is. */
function band(valueIn: number | null, lightBelowIn: number, heavyAboveIn: number): Band {
  if (valueIn === null || !Number.isFinite(valueIn) || valueIn > heavyAboveIn) return 'heavy'
  return valueIn < lightBelowIn ? 'light' : 'medium'
}

function oxyfuel(
  id: 'osha1910-shade-oxycut' | 'osha1910-shade-gasweld',
  thicknessIn: number | null,
): Shade {
  const { lightBelowIn, heavyAboveIn, shadeLight, shadeMedium, shadeHeavy } = STORE_RULES[id].limits
  const guide = STORE_RULES['ansi-shade-ranges-oxycut'].limits
  const cut = id === 'osha1910-shade-oxycut'
  const ranges = {
    light: cut
      ? { least: guide.cutLightLeast, most: guide.cutLightMost }
      : { least: guide.weldLightLeast, most: guide.weldLightMost },
    medium: cut
      ? { least: guide.cutMediumLeast, most: guide.cutMediumMost }
      : { least: guide.weldMediumLeast, most: guide.weldMediumMost },
    heavy: cut
      ? { least: guide.cutHeavyLeast, most: guide.cutHeavyMost }
      : { least: guide.weldHeavyLeast, most: guide.weldHeavyMost },
  }
  const which = band(thicknessIn, lightBelowIn, heavyAboveIn)
  return {
    minimum: { light: shadeLight, medium: shadeMedium, heavy: shadeHeavy }[which],
    guide: ranges[which],
    ruleIds: [id, 'ansi-shade-ranges-oxycut'],
  }
}

/** MIG and TIG stand in the same table of 29 CFR 1910.133(a)(5), and have no limit of their own in the catalogue. */
const ARC = STORE_RULES['osha1910-shade-arc'].limits
/** Rows of [amperes below which it holds, shade]; the last has no end. A current at a limit takes the darker row. */
const ARC_ROWS: Record<
  'smaw' | 'mig' | 'tig' | 'plasma_cutting',
  readonly (readonly [number, number])[]
> = {
  smaw: [
    [60, ARC.smawLt60],
    [160, ARC.smaw60160],
    [250, ARC.smaw160250],
    [Infinity, ARC.smaw250550],
  ],
  mig: [
    [60, 7],
    [Infinity, 10],
  ],
  tig: [
    [150, 8],
    [Infinity, 10],
  ],
  plasma_cutting: [
    [300, ARC.plasmaCutLt300],
    [400, ARC.plasmaCut300400],
    [Infinity, ARC.plasmaCut400800],
  ],
}

function arc(process: keyof typeof ARC_ROWS, amps: number | null): Shade {
  const rows = ARC_ROWS[process]
  const darkest = Math.max(...rows.map(([, shade]) => shade))
  const row = amps === null ? undefined : rows.find(([below]) => amps < below)
  return { minimum: row?.[1] ?? darkest, guide: null, ruleIds: ['osha1910-shade-arc'] }
}

/**
 * The lightest lens for the work. Darker may be worn; in construction the table is a guide.
 *
 * @param input inches or amperes; what is not known takes the darkest of its row
 * @source 29 CFR 1910.133(a)(5); guide ranges 29 CFR 1926.102(c)(1), 8 CCR 3382
 */
export function lensShade({ process, thicknessIn = null, amps = null }: ShadeInput): Shade {
  const { braze, solder, carbonArc } = STORE_RULES['osha1910-shade-braze-solder'].limits
  const fixed = (minimum: number): Shade => ({
    minimum,
    guide: null,
    ruleIds: ['osha1910-shade-braze-solder'],
  })
  if (process === 'oxyfuel_cutting') return oxyfuel('osha1910-shade-oxycut', thicknessIn)
  if (process === 'oxyfuel_welding') return oxyfuel('osha1910-shade-gasweld', thicknessIn)
  if (process === 'torch_brazing') return fixed(braze)
  if (process === 'torch_soldering') return fixed(solder)
  if (process === 'carbon_arc') return fixed(carbonArc)
  return arc(process, amps)
}
