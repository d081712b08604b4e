import 'server-only'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { EstimatedCut } from '@/lib/calc/done-share'
import {
  balanceIntervals,
  type IntervalBalance,
  type LoggedShare,
  type UsedInterval,
} from '@/lib/calc/interval-balance'
import type { AuditedReading, AuditLogRow } from './gas-audit-rows'

export type AuditInterval = Readonly<{
  cylinderId: string
  serial: string
  fromMs: number
  toMs: number
  /** Which of the job's logs, in their order from 1, overlap it on that outfit. */
  logNumbers: readonly number[]
  balance: IntervalBalance
}>

type Side = 'oxygenKg' | 'fuelKg'

/** The part of the job's estimate that each log's pieces are. */
function sharesOf(
  logs: readonly AuditLogRow[],
  cuts: readonly EstimatedCut[],
  side: Side,
): LoggedShare[] {
  const whole = cuts.reduce((sum, cut) => sum + cut[side], 0)
  return logs.flatMap((log) => {
    const cut = cuts.find((one) => one.cutId === log.cutId)
    if (!cut || cut.count === 0 || whole <= 0) return []
    const share = (log.pieces * cut[side]) / cut.count / whole
    return [{ outfitId: log.outfitId, fromMs: log.from.getTime(), toMs: log.to.getTime(), share }]
  })
}

const isOn = (log: AuditLogRow, { outfitId, fromMs, toMs }: UsedInterval) =>
  (log.outfitId === null || outfitId === null || log.outfitId === outfitId) &&
  log.to.getTime() > fromMs &&
  log.from.getTime() < toMs

/** Between each two readings: what left the cylinder, beside what the work logged then should take. */
export function auditIntervals(
  audit: JobAudit,
  known: Readonly<{
    readings: readonly AuditedReading[]
    logs: readonly AuditLogRow[]
    cuts: readonly EstimatedCut[]
    /** Of the whole list, kg. */
    estimate: Readonly<{ meanKg: number; standardUncertaintyKg: number }>
  }>,
): AuditInterval[] {
  const { readings, logs, cuts, estimate } = known
  const found = audit.spans.flatMap((span) =>
    span.intervals.map((interval) => {
      const end = readings.find(
        (one) => one.cylinderId === span.cylinderId && one.atMs === interval.toMs,
      )
      return {
        ...interval,
        cylinderId: span.cylinderId,
        serial: end?.serial ?? '',
        outfitId: end?.outfitId ?? null,
      }
    }),
  )
  const balances = balanceIntervals({
    estimate,
    logs: sharesOf(logs, cuts, audit.gas === 'oxygen' ? 'oxygenKg' : 'fuelKg'),
    intervals: found,
  })
  return found
    .flatMap((interval, index) => {
      const balance = balances[index]
      if (!balance) return []
      const { cylinderId, serial, fromMs, toMs } = interval
      const logNumbers = logs.flatMap((log, at) => (isOn(log, interval) ? [at + 1] : []))
      return [{ cylinderId, serial, fromMs, toMs, logNumbers, balance }]
    })
    .sort((a, b) => a.fromMs - b.fromMs)
}
