export const OUTFIT_CHECKS = [
  'shift_inspection',
  'inspection',
  'leak_test',
  'creep_test',
  'arrestor_test',
] as const
export type OutfitCheck = (typeof OUTFIT_CHECKS)[number]
export const EXTINGUISHER_CHECKS = ['monthly', 'annual'] as const
export type ExtinguisherCheckKind = (typeof EXTINGUISHER_CHECKS)[number]

/**
 * Days between two of a kind. An outfit's are common practice, no source: 29 CFR 1926.350 asks that
 * hoses and torches are looked at before each shift (from memory) and names no interval for the rest.
 * An extinguisher's are 29 CFR 1910.157(e)(2) and (3), from memory: each month, each year.
 */
export const CHECK_DAYS: Readonly<Record<OutfitCheck | ExtinguisherCheckKind, number>> = {
  shift_inspection: 1,
  inspection: 30,
  leak_test: 30,
  creep_test: 90,
  arrestor_test: 365,
  monthly: 31,
  annual: 366,
}

const SOON_DAYS = 7
const DAY_MS = 86_400_000

export type Due<K> = Readonly<{
  check: K
  standing: 'done' | 'soon' | 'due' | 'never'
  /** The day it falls due, `2026-04-13`; null where it was never made. */
  dueOn: string | null
}>

const dayMs = (day: string) => Date.parse(`${day}T00:00:00Z`)

/**
 * When each check falls due, by the place's calendar. What is to be made each shift is due again the
 * next day; what has a longer interval is told a week before.
 *
 * @param last the day of the last one that passed, by check
 */
export function dueChecks<K extends OutfitCheck | ExtinguisherCheckKind>(
  checks: readonly K[],
  { today, last }: Readonly<{ today: string; last: Readonly<Partial<Record<K, string>>> }>,
): Due<K>[] {
  return checks.map((check) => {
    const done = last[check]
    if (done === undefined) return { check, standing: 'never', dueOn: null }
    const every = CHECK_DAYS[check]
    const left = (dayMs(done) - dayMs(today)) / DAY_MS + every
    const dueOn = new Date(dayMs(done) + every * DAY_MS).toISOString().slice(0, 10)
    if (left <= 0) return { check, standing: 'due', dueOn }
    return { check, standing: every > SOON_DAYS && left <= SOON_DAYS ? 'soon' : 'done', dueOn }
  })
}

/** An orifice that serves: within a tenth of what the table asks. House judgement, no source. */
const SAME_ORIFICE = 0.1

export type TipWanted = Readonly<{ orificeM: number; cuts: number }>
export type TipHeld = Readonly<{ orificeM: number }>

/** Which sizes the cuts that are left will need, and how many tips there are that serve each. */
export function tipsWanted(
  wanted: readonly TipWanted[],
  held: readonly TipHeld[],
): { orificeM: number; cuts: number; held: number }[] {
  const sizes = new Map<number, number>()
  for (const { orificeM, cuts } of wanted) sizes.set(orificeM, (sizes.get(orificeM) ?? 0) + cuts)
  return [...sizes]
    .sort(([a], [b]) => a - b)
    .map(([orificeM, cuts]) => ({
      orificeM,
      cuts,
      held: held.filter((tip) => Math.abs(tip.orificeM - orificeM) <= SAME_ORIFICE * orificeM)
        .length,
    }))
}

/** After so many hours of cutting somebody looks at the tip. House judgement, no source. */
export const TIP_LOOK_HOURS = 40
/** Opened by more than this part of its orifice, a tip is worn. House judgement, no source. */
const WORN_SHARE = 0.1

export const TIP_FINDINGS = ['good', 'cleaned', 'worn', 'damaged'] as const
export type TipStanding = 'good' | 'look' | 'worn'

/** How a tip on an outfit stands: to be looked at after its hours, worn once it has opened too far. */
export function tipStanding(
  tip: Readonly<{ orificeM: number | null; measuredM: number | null; hoursSinceLook: number }>,
): TipStanding {
  const { orificeM, measuredM, hoursSinceLook } = tip
  if (orificeM !== null && measuredM !== null && measuredM > orificeM * (1 + WORN_SHARE))
    return 'worn'
  return hoursSinceLook >= TIP_LOOK_HOURS ? 'look' : 'good'
}
