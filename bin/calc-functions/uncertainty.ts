import { z } from 'zod'
import { combineTogether, effectiveFreedom, meansTogether } from '../../lib/calc/correlated'
import { quantile } from '../../lib/calc/distributions'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const row = z.array(number).max(100)
const square = z.array(row).min(1).max(100)

export const UNCERTAINTY_FUNCTIONS: CalcFunctions = {
  'means-together': calcFunction(
    'Means of quantities observed together, with uncertainties and correlations',
    z.strictObject({ observations: z.array(z.array(number).max(10_000)).min(1).max(100) }),
    ({ observations }) => ({ ok: true, ...meansTogether(observations) }),
  ),
  'combined-uncertainty': calcFunction(
    'Uncertainties and correlations of results from those of their inputs',
    z.strictObject({
      standardUncertainties: row.min(1),
      correlations: square,
      means: row.min(1),
      sensitivities: square,
    }),
    ({ standardUncertainties, correlations, ...results }) => ({
      ok: true,
      ...combineTogether({ standardUncertainties, correlations }, results),
    }),
  ),
  'effective-freedom': calcFunction(
    'Degrees of freedom of a combined uncertainty, and its factor for a coverage; null stands for no end',
    z.strictObject({
      parts: z
        .array(z.strictObject({ standardUncertainty: number, degreesOfFreedom: number.nullable() }))
        .min(1)
        .max(1000),
      coverage: number.gt(0).lt(1),
    }),
    ({ parts, coverage }) => {
      const dof = effectiveFreedom(
        parts.map((part) => ({ ...part, degreesOfFreedom: part.degreesOfFreedom ?? Infinity })),
      )
      const isEndless = dof === Infinity
      const family = isEndless
        ? ({ family: 'normal', mean: 0, sd: 1 } as const)
        : ({ family: 't', dof } as const)
      return {
        ok: true,
        degreesOfFreedom: isEndless ? null : dof,
        factor: quantile(family, (1 + coverage) / 2),
      }
    },
  ),
}
