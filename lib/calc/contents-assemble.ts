import type { Contents, CylinderSize } from './contents-types'
import type { Source, Term } from './source'
import { normalInterval, quadrature } from './stats'

/** Puts the parts together; contents are never below nothing. */
export function assemble(
  size: CylinderSize,
  gasKg: number,
  chain: Term[],
  source: Source,
): Contents {
  const standardUncertaintyKg = quadrature(chain.map((term) => term.contribution))
  const { low90, high90 } = normalInterval({
    mean: gasKg,
    standardUncertainty: standardUncertaintyKg,
    min: 0,
  })
  return {
    ok: true,
    gas: size.gas,
    gasKg,
    standardUncertaintyKg,
    low90Kg: low90,
    high90Kg: high90,
    chain,
    source,
  }
}
