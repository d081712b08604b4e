import type { UncertainEnd } from '@/app/_components/bar/teeth'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { GasCode } from '@/lib/calc/gas-data'
import { normalQuantiles } from '@/lib/calc/stats'
import { convert, gasM3FromKg } from '@/lib/calc/units'

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
  const used = normalQuantiles(usage)
  return {
    estimate: { low: at(estimate.low90), middle: at(estimate.mean), high: at(estimate.high90) },
    used: {
      p05: at(used.p05),
      p275: at(used.p275),
      p50: at(used.p50),
      p725: at(used.p725),
      p95: at(used.p95),
    },
  }
}
