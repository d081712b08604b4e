import type { LayerParameters, ParameterName } from './types'

/** Which way a parameter gets stricter. `own` speaks of the layer's own watch alone; `advice` binds nobody. */
export type Stricter = 'more' | 'less' | 'true' | 'own' | 'advice'

export interface ParameterRule {
  kind: 'number' | 'flag'
  stricter: Stricter
  /** The least and most that may be typed in; judgement, no source: it catches slips, it is no limit of a text. */
  min: number
  max: number
}

const number = (stricter: Stricter, min: number, max: number): ParameterRule => ({
  kind: 'number',
  stricter,
  min,
  max,
})
const flag = (stricter: Stricter): ParameterRule => ({ kind: 'flag', stricter, min: 0, max: 1 })
const DAY_MIN = 1440

/** Every parameter of a layer, and which way it gets stricter. */
export const PARAMETER_RULES: Readonly<Record<ParameterName, ParameterRule>> = {
  watchEveryPermit: flag('true'),
  postWatchMin: number('more', 0, DAY_MIN),
  torchRoofPostWatchMin: number('more', 0, DAY_MIN),
  surveyMayEndWatch: flag('own'),
  finalCheckMin: number('more', 0, DAY_MIN),
  monitoringMaxMin: number('advice', 0, DAY_MIN),
  monitoringMin: number('more', 0, DAY_MIN),
  monitoringCheckEveryMin: number('less', 1, DAY_MIN),
  finalLookAtMin: number('more', 0, DAY_MIN),
  statementRequired: flag('true'),
  capHours: number('less', 1, 168),
  reinspectEveryHours: number('less', 1, 168),
  reinspectEachShift: flag('true'),
  gearCheckEachShift: flag('true'),
  gasOffAfterIdleMin: number('less', 0, DAY_MIN),
  unattendedEnclosedMaxMin: number('less', 0, DAY_MIN),
  unattendedConfinedMaxMin: number('less', 0, DAY_MIN),
  keepRecordsHours: number('more', 0, 500_000),
  roundIntervalMin: number('less', 1, 120),
  breakLimitMin: number('less', 1, DAY_MIN),
  gasTestValidMin: number('less', 1, DAY_MIN),
  gasTestBeforeEveryPermit: flag('true'),
  gasTestContinuousWhenEnclosed: flag('true'),
  oxygenMinPct: number('more', 0, 20.9),
  oxygenMaxPct: number('less', 20.9, 100),
  oxygenStopAtPct: number('less', 20.9, 100),
  lelMaxPct: number('less', 0, 100),
  lelStopAtPct: number('less', 0, 100),
  enclosedOxygenMinPct: number('more', 0, 20.9),
  enclosedOxygenMaxPct: number('less', 20.9, 100),
  enclosedLelMaxPct: number('less', 0, 100),
  coMaxPpm: number('less', 0, 1000),
  h2sMaxPpm: number('less', 0, 1000),
  paiOnSiteWithinMin: number('less', 1, DAY_MIN),
  windMaxMph: number('less', 1, 60),
}

export const PARAMETER_NAMES = Object.keys(PARAMETER_RULES) as readonly ParameterName[]

export function isParameterName(name: string): name is ParameterName {
  return Object.hasOwn(PARAMETER_RULES, name)
}

/** Whether the first value asks for less than the second. Silence asks for nothing. */
export function isLaxer<N extends ParameterName>(
  name: N,
  value: LayerParameters[N],
  than: LayerParameters[N],
): boolean {
  const { stricter } = PARAMETER_RULES[name]
  if (stricter === 'true') return than === true && value !== true
  if (typeof than !== 'number' || typeof value !== 'number') return false
  if (stricter === 'more') return value < than
  return stricter === 'less' && value > than
}
