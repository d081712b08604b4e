import type {
  AuditInput,
  AuditOutcome,
  AuditReading,
  AuditShare,
  AuditSpan,
  JobAudit,
  SpanAudit,
} from './audit-types'
import { type Balanced, balance } from './balance'
import { isGasCode } from './gas-data'
import { fitFalling } from './isotonic'
import { type Refusal, refuse } from './refusal'
import type { Interval90 } from './source'
import { lognormalInterval, normalInterval, quadrature } from './stats'
import { source } from './trace'
import { CALC_VERSION } from './version'

/** Relative uncertainty of usage at which a job counts half when the crew's factor is learned. Own choice. */
const HALF_WEIGHT_RELATIVE_U = 0.05

type Usage = Omit<SpanAudit, 'reconciledKg' | 'reconciledStandardUncertaintyKg'>

/**
 * What a job really used, from the readings of its cylinders, beside its estimate.
 *
 * Use of a cylinder is its first reading less its last, contents never rising in between. Uses add up with
 * their uncertainties in quadrature. The estimate, as an independent total, closes one balance with them.
 *
 * @param input gas, stays of cylinders with their readings (kg), parts of what was shared (kg), estimate with its
 *   uncertainty (kg)
 * @returns usage, difference, ratio and the reconciled figures; or refusals
 * @remarks Gauges read in more than one stay are named: their errors do not average out, so the quadrature
 *   is then too narrow. Cylinders with a single reading are named and not counted.
 * @source `balance`, `fitFalling`; weights of the factor: own choice, reliability 1/(1 + (u/usage)²/0.05²)
 */
export function auditJob(input: AuditInput): AuditOutcome {
  const refusals = check(input)
  if (refusals.length > 0) return refuse(refusals)
  const complete = input.spans.filter((span) => span.readings.length > 1)
  const usages = [...complete.map(usageOf), ...(input.shares ?? []).map(usageOfShare)]
  const { meanKg, standardUncertaintyKg } = input.estimate
  const balanced = balance({
    parts: usages.map((usage) => ({
      value: usage.usageKg,
      variance: usage.standardUncertaintyKg ** 2,
    })),
    total: { value: meanKg, variance: standardUncertaintyKg ** 2 },
  })
  const usageKg = usages.reduce((sum, usage) => sum + usage.usageKg, 0)
  const usageU = quadrature(usages.map((usage) => usage.standardUncertaintyKg))
  return {
    ok: true,
    calcVersion: CALC_VERSION,
    gas: input.gas,
    spans: usages.map((usage, i) => withReconciled(usage, balanced, i)),
    ...compare({ usageKg, usageU, estimateKg: meanKg, estimateU: standardUncertaintyKg }),
    statistic: balanced.statistic,
    reconciled: {
      totalKg: balanced.total.value,
      standardUncertaintyKg: Math.sqrt(balanced.total.variance),
    },
    sharedGaugeIds: sharedGauges(complete),
    incompleteCylinderIds: input.spans
      .filter((span) => span.readings.length < 2)
      .map((span) => span.cylinderId),
    source: source(
      'auditOfJob',
      {
        spans: [usages.length, '1'],
        usageKg: [usageKg, 'kg'],
        estimateKg: [meanKg, 'kg'],
        estimateStandardUncertaintyKg: [standardUncertaintyKg, 'kg'],
      },
      { provenance: 'derived' },
    ),
  }
}

/** A part of a shared interval stands beside the cylinder's own spans. */
const usageOfShare = ({ cylinderId, ...interval }: AuditShare): Usage => ({
  cylinderId,
  usageKg: interval.usageKg,
  standardUncertaintyKg: interval.standardUncertaintyKg,
  intervals: [interval],
  boundReadings: 0,
})

function check({ gas, spans, shares = [], estimate }: AuditInput): Refusal[] {
  const refusals: Refusal[] = []
  const needs = (field: string, value: number, limit: { min: number } | { above: number }) => {
    const inside = 'min' in limit ? value >= limit.min : value > limit.above
    if (!(inside && Number.isFinite(value)))
      refusals.push({ code: 'OUT_OF_RANGE', field, value, limit: { ...limit, unit: 'kg' } })
  }
  if (!isGasCode(gas))
    refusals.push({ code: 'UNKNOWN_GAS', field: 'gas', value: String(gas), limit: null })
  needs('estimate.meanKg', estimate.meanKg, { above: 0 })
  needs('estimate.standardUncertaintyKg', estimate.standardUncertaintyKg, { min: 0 })
  for (const [s, span] of spans.entries()) {
    for (const [r, reading] of span.readings.entries()) {
      const field = `spans.${s}.readings.${r}`
      needs(`${field}.gasKg`, reading.gasKg, { min: 0 })
      needs(`${field}.standardUncertaintyKg`, reading.standardUncertaintyKg, { above: 0 })
      const before = span.readings[r - 1]
      if (before && !(reading.atMs >= before.atMs)) {
        refusals.push({
          code: 'READINGS_OUT_OF_ORDER',
          field: `${field}.atMs`,
          value: reading.atMs,
          limit: { min: before.atMs, unit: 'ms' },
        })
      }
    }
  }
  for (const [i, share] of shares.entries()) {
    needs(`shares.${i}.usageKg`, share.usageKg, { min: 0 })
    needs(`shares.${i}.standardUncertaintyKg`, share.standardUncertaintyKg, { min: 0 })
  }
  if (shares.length === 0 && !spans.some((span) => span.readings.length > 1)) {
    refusals.push({ code: 'NO_READINGS', field: 'spans', value: spans.length, limit: { min: 1 } })
  }
  return refusals
}

function usageOf(span: AuditSpan): Usage {
  const fitted = fitFalling(
    span.readings.map((reading) => ({
      value: reading.gasKg,
      weight: reading.standardUncertaintyKg ** -2,
    })),
  )
  const between = (from: AuditReading, to: AuditReading) =>
    quadrature([from.standardUncertaintyKg, to.standardUncertaintyKg])
  const intervals = span.readings.slice(1).flatMap((to, i) => {
    const from = span.readings[i]
    if (!from) return []
    const usageKg = (fitted[i] ?? 0) - (fitted[i + 1] ?? 0)
    return [{ fromMs: from.atMs, toMs: to.atMs, usageKg, standardUncertaintyKg: between(from, to) }]
  })
  const [first, last] = [span.readings[0], span.readings.at(-1)]
  return {
    cylinderId: span.cylinderId,
    usageKg: (fitted[0] ?? 0) - (fitted.at(-1) ?? 0),
    standardUncertaintyKg: first && last ? between(first, last) : 0,
    intervals,
    boundReadings: fitted.filter((value, i) => value !== span.readings[i]?.gasKg).length,
  }
}

function withReconciled(usage: Usage, balanced: Balanced, i: number): SpanAudit {
  const part = balanced.parts[i] ?? {
    value: usage.usageKg,
    variance: usage.standardUncertaintyKg ** 2,
  }
  return {
    ...usage,
    reconciledKg: part.value,
    reconciledStandardUncertaintyKg: Math.sqrt(part.variance),
  }
}

type Compared = Pick<
  JobAudit,
  'usage' | 'estimate' | 'difference' | 'z' | 'ratio' | 'factorWeightKg'
>

function compare(known: {
  usageKg: number
  usageU: number
  estimateKg: number
  estimateU: number
}): Compared {
  const { usageKg, usageU, estimateKg, estimateU } = known
  const differenceU = quadrature([usageU, estimateU])
  const ratio = usageKg / estimateKg
  const ratioU = quadrature([usageU / estimateKg, (ratio * estimateU) / estimateKg])
  const relativeU = usageKg > 0 ? usageU / usageKg : Number.MAX_VALUE
  return {
    usage: normalInterval({ mean: usageKg, standardUncertainty: usageU, min: 0 }),
    estimate: lognormalInterval({ mean: estimateKg, standardUncertainty: estimateU }),
    difference: normalInterval({ mean: usageKg - estimateKg, standardUncertainty: differenceU }),
    z: differenceU > 0 ? (usageKg - estimateKg) / differenceU : 0,
    ratio: ratioInterval(ratio, ratioU),
    factorWeightKg: estimateKg / (1 + (relativeU / HALF_WEIGHT_RELATIVE_U) ** 2),
  }
}

/** A ratio can't be negative; one near nothing has no lognormal to speak of. */
function ratioInterval(ratio: number, ratioU: number): Interval90 {
  const isNearNothing = ratio < 2 * ratioU
  return isNearNothing
    ? normalInterval({ mean: ratio, standardUncertainty: ratioU, min: 0 })
    : lognormalInterval({ mean: ratio, standardUncertainty: ratioU })
}

function sharedGauges(spans: readonly AuditSpan[]): string[] {
  const spansOfGauge = new Map<string, number>()
  for (const span of spans) {
    const gauges = new Set(span.readings.flatMap((reading) => reading.gaugeId ?? []))
    for (const gauge of gauges) spansOfGauge.set(gauge, (spansOfGauge.get(gauge) ?? 0) + 1)
  }
  return [...spansOfGauge]
    .filter(([, count]) => count > 1)
    .map(([gauge]) => gauge)
    .sort()
}
