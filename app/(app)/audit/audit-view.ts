import type { UncertainEnd } from '@/app/_components/bar/teeth'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { GasCode } from '@/lib/calc/gas-data'
import type { Interval90 } from '@/lib/calc/source'
import { normalQuantiles } from '@/lib/calc/stats'
import { convert, gasM3FromKg } from '@/lib/calc/units'
import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'

/** How far back a page of jobs looks, in days; null is all there is. */
export const PERIODS = [30, 90, 365, null] as const
export type Period = (typeof PERIODS)[number]
const USUAL_PERIOD: Period = 90

/** The period that an address names, else the usual one. */
export function periodOf(asked: string | null | undefined): Period {
  if (asked === 'all') return null
  return PERIODS.find((days) => days !== null && String(days) === asked) ?? USUAL_PERIOD
}

export const periodText = (period: Period) => (period === null ? 'all' : String(period))

export type Units = 'us' | 'si'

/** A gas as this person reads it: cubic feet or cubic metres at 70 °F and 1 atm. */
export function volumeOf(gas: GasCode, kg: number, units: Units): number {
  const m3 = gasM3FromKg(gas, kg)
  return units === 'us' ? convert({ value: m3, from: 'm3', to: 'ft3' }) : m3
}

export const volumeUnit = (units: Units) => (units === 'us' ? 'ft³' : 'm³')

export interface Volumes {
  readonly estimate: Readonly<{ low: number; middle: number; high: number }>
  readonly used: UncertainEnd
}

/** Estimate and use in the person's unit, as the drawing takes them. */
export function volumesOf(audit: JobAudit, units: Units): Volumes {
  const at = (kg: number) => volumeOf(audit.gas, Math.max(0, kg), units)
  const { estimate, usage } = audit
  return {
    estimate: { low: at(estimate.low90), middle: at(estimate.mean), high: at(estimate.high90) },
    used: usedVolumes(audit.gas, usage, units),
  }
}

/** Real quantiles of a use, for its teeth. */
export function usedVolumes(gas: GasCode, usage: Interval90, units: Units): UncertainEnd {
  const at = (kg: number) => volumeOf(gas, Math.max(0, kg), units)
  const used = normalQuantiles(usage)
  return {
    p05: at(used.p05),
    p275: at(used.p275),
    p50: at(used.p50),
    p725: at(used.p725),
    p95: at(used.p95),
  }
}

/** About four ticks on an axis, at round numbers. */
export function niceStep(top: number): number {
  const rough = top / 4
  const power = 10 ** Math.floor(Math.log10(Math.max(rough, 1e-9)))
  return power * ([1, 2, 5, 10].find((step) => step * power >= rough) ?? 10)
}

/** Whole per cent of the list's gas that was cut; null where the estimate does not say by cut. */
export const percentDone = (job: Pick<AuditedJob, 'done'>, side: GasSide): number | null =>
  job.done ? Math.round(job.done[side] * 100) : null

/** Why there is nothing to compare, as the key of its words. */
export function whyNothing(job: Pick<AuditedJob, 'estimate' | 'done'>, side: GasSide) {
  if (!job.estimate) return 'noEstimate'
  return job.done && job.done[side] <= 0 ? 'nothingCut' : 'noReadings'
}
