import { numberRefusals } from './check-numbers'
import { contentsFromReading } from './contents'
import { assemble } from './contents-assemble'
import type { ContentsOutcome, CylinderReading, CylinderSize } from './contents-types'
import { refuse } from './refusal'

export type PackInput = {
  /** Cylinders that share the manifold and its gauge. */
  cylinders: number
  /** One cylinder of the pack. */
  size: CylinderSize
  reading: Extract<CylinderReading, { kind: 'gauge' }>
}

const MAX_CYLINDERS = 64

/**
 * Gas in a pack: several cylinders of one size on one gauge.
 *
 * @param pack how many, their size and the one reading
 * @returns contents of all together, or refusals
 * @remarks Gauge, temperature and fit are off for all alike, so their terms grow with the number; the cylinders'
 *   own water volumes differ by chance, so that term grows with its square root.
 * @source `contentsFromReading`
 */
export function packContents({ cylinders, size, reading }: PackInput): ContentsOutcome {
  const refusals = numberRefusals({ cylinders: [cylinders, { min: 1, max: MAX_CYLINDERS }] })
  if (!Number.isInteger(cylinders) && refusals.length === 0)
    return refuse([{ code: 'NOT_WHOLE', field: 'cylinders', value: cylinders, limit: null }])
  if (refusals.length > 0) return refuse(refusals)
  const one = contentsFromReading(reading, size)
  if (!one.ok) return one
  const chain = one.chain.map((term) => ({
    ...term,
    contribution:
      term.contribution *
      (term.code === 'waterVolume' || term.code === 'solvent' ? Math.sqrt(cylinders) : cylinders),
  }))
  return assemble(size, one.gasKg * cylinders, chain, {
    ...one.source,
    formulaCode: 'packByGauge',
    inputs: [...one.source.inputs, { name: 'cylinders', value: cylinders, unit: '' }],
  })
}
