import 'server-only'
import { auditJob } from '@/lib/calc/audit'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { DoneShare } from '@/lib/calc/done-share'
import { type GasCode, isGasCode } from '@/lib/calc/gas-data'
import { jobSpans, type StayReading } from '@/lib/calc/job-spans'
import type { SharedUse } from '@/lib/calc/shared-use'
import type { JobEstimateRow } from './gas-audit-rows'

export type GasSide = 'oxygen' | 'fuel'
type SideReading = StayReading & Readonly<{ gasId: string }>

function audit(
  readings: readonly SideReading[],
  job: Readonly<{ id: string; gas: GasCode; meanKg: number; uKg: number }>,
  shared: readonly SharedUse[],
): JobAudit | null {
  const own = readings.filter((reading) => reading.gasId === job.gas)
  const spans = jobSpans(own, job.id, shared)
  const cylinders = new Set(own.map((reading) => reading.cylinderId))
  const shares = shared.flatMap(({ cylinderId, fromMs, toMs, shares: all }) =>
    all.flatMap(({ jobId, usageKg, standardUncertaintyKg }) =>
      jobId === job.id && cylinders.has(cylinderId)
        ? [{ cylinderId, fromMs, toMs, usageKg, standardUncertaintyKg }]
        : [],
    ),
  )
  if (shares.length === 0 && !spans.some((span) => span.readings.length > 1)) return null
  const outcome = auditJob({
    gas: job.gas,
    spans,
    shares,
    estimate: { meanKg: job.meanKg, standardUncertaintyKg: job.uKg },
  })
  return outcome.ok ? outcome : null
}

type Estimate = Readonly<{ gas: GasCode; meanKg: number; standardUncertaintyKg: number }>

/** An estimate by gas, of the whole list. */
export function estimatesOf(row: JobEstimateRow | undefined): Record<GasSide, Estimate | null> {
  if (!row) return { oxygen: null, fuel: null }
  const { fuel, oxygen_kg: oxygenKg, oxygen_u_kg: oxygenUKg, fuel_kg: fuelKg } = row
  return {
    oxygen: { gas: 'oxygen', meanKg: oxygenKg, standardUncertaintyKg: oxygenUKg },
    fuel: isGasCode(fuel)
      ? { gas: fuel, meanKg: fuelKg, standardUncertaintyKg: row.fuel_u_kg }
      : null,
  }
}

/** Both gases against the estimate of what was cut; the tables err the same way on every cut, so uncertainty goes with the share. */
export function sidesOf(
  id: string,
  known: Readonly<{
    estimate: JobEstimateRow | undefined
    done: DoneShare | null
    readings: readonly SideReading[]
    /** Of these cylinders, by `sharedUse`. */
    shared: readonly SharedUse[]
  }>,
): Record<GasSide, JobAudit | null> {
  const whole = estimatesOf(known.estimate)
  const sideOf = (side: GasSide) => {
    const estimate = whole[side]
    const share = known.done?.[side] ?? 1
    if (!estimate || share <= 0) return null
    const { gas, meanKg, standardUncertaintyKg } = estimate
    return audit(
      known.readings,
      { id, gas, meanKg: meanKg * share, uKg: standardUncertaintyKg * share },
      known.shared,
    )
  }
  return { oxygen: sideOf('oxygen'), fuel: sideOf('fuel') }
}
