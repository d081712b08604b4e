import type { GasCode } from './gas-data'
import type { Refused } from './refusal'
import type { Interval90, Source } from './source'

/** Contents at one moment, as `contentsFromReading` gave them. */
export type AuditReading = {
  atMs: number
  gasKg: number
  standardUncertaintyKg: number
  /** The instrument, when it is known: errors of one gauge are shared. */
  gaugeId?: string | null
}

/** One stay of one cylinder on the job, from put on to taken off, with any reading in between. */
export type AuditSpan = { cylinderId: string; readings: AuditReading[] }

/** A job's part of what left a cylinder while others worked from it too, by `sharedUse`. */
export type AuditShare = {
  cylinderId: string
  fromMs: number
  toMs: number
  usageKg: number
  standardUncertaintyKg: number
}

export type AuditInput = {
  gas: GasCode
  spans: AuditSpan[]
  shares?: AuditShare[]
  estimate: { meanKg: number; standardUncertaintyKg: number }
}

export type SpanAudit = {
  cylinderId: string
  usageKg: number
  standardUncertaintyKg: number
  intervals: { fromMs: number; toMs: number; usageKg: number; standardUncertaintyKg: number }[]
  /** Readings moved because contents can't rise. */
  boundReadings: number
  /** After the balance against the estimate. */
  reconciledKg: number
  reconciledStandardUncertaintyKg: number
}

export type JobAudit = {
  ok: true
  calcVersion: string
  gas: GasCode
  spans: SpanAudit[]
  /** kg. */
  usage: Interval90
  estimate: Interval90
  /** Usage less estimate, kg; u by quadrature. */
  difference: Interval90
  /** Difference over its standard uncertainty; zero when both are exact and equal. */
  z: number
  /** The balance's chi-square statistic, one degree of freedom. */
  statistic: number
  /** Usage over estimate. */
  ratio: Interval90
  /** Weight of this job when the crew's factor is learned, kg. */
  factorWeightKg: number
  reconciled: { totalKg: number; standardUncertaintyKg: number }
  /** Gauges used in more than one span: their errors do not average out. */
  sharedGaugeIds: string[]
  /** Cylinders with one reading only: their use is not counted. */
  incompleteCylinderIds: string[]
  source: Source
}

export type AuditOutcome = JobAudit | Refused
