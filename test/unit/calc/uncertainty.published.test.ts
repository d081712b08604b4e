import { expect, test } from 'vitest'
import {
  combineTogether,
  effectiveFreedom,
  meansTogether,
  sensitivitiesOf,
} from '@/lib/calc/correlated'
import { quantile } from '@/lib/calc/distributions'
import { quadrature, rectangular } from '@/lib/calc/stats'
import vectors from '../../vectors/calc/balance.json'
import { balanceVector } from './balance-vector'

const h1 = vectors.vectors.find((one) => one.id === 'gum-h1')
const expected = (h1?.expected ?? {}) as Record<string, number> & {
  components: Record<string, number>
}

test('the standard uncertainty of the GUM’s end gauge is the root of the squares of its parts', () => {
  // JCGM 100:2008 H.1: a length of 50 mm times half-widths of rectangular doubts, in nm.
  const lengthNm = 50_000_623
  const parts = [
    25,
    5.8,
    3.9,
    6.7,
    lengthNm * 11.5e-6 * rectangular(0.05),
    lengthNm * 0.1 * rectangular(1e-6),
  ]
  expect(parts[4]).toBeCloseTo(expected.components.dTheta ?? 0, 3)
  expect(parts[5]).toBeCloseTo(expected.components.dAlpha ?? 0, 3)
  expect(quadrature(parts)).toBeCloseTo(expected.u_nm ?? 0, 3)
})

test('its factor for 99 % is that of Student’s t; the printed 93 nm come of rounded factors', () => {
  const k = quantile({ family: 't', dof: 16 }, 0.995)
  // JCGM 100:2008 H.1.6 rounds 16.7 degrees of freedom down to 16.
  expect(k).toBeCloseTo(expected.k99 ?? 0, 5)
  expect(k * (expected.u_nm ?? 0)).toBeCloseTo(expected.U99_nm ?? 0, 2)
  expect(Math.round(2.92 * 32)).toBe(expected.U99Printed_nm)
})

test('the end gauge’s uncertainty is known as if from 16.75 observations, by Welch and Satterthwaite', () => {
  const { dTheta, dAlpha } = expected.components
  const parts = [
    [25, 18],
    [5.8, 24],
    [3.9, 5],
    [6.7, 8],
    [dTheta ?? 0, 2],
    [dAlpha ?? 0, 50],
  ].map(([standardUncertainty = 0, degreesOfFreedom = 0]) => ({
    standardUncertainty,
    degreesOfFreedom,
  }))
  const dof = effectiveFreedom(parts)
  expect(dof).toBeCloseTo(expected.effectiveDof ?? 0, 3)
  // The print cuts after the first decimal.
  expect(Math.floor(dof * 10) / 10).toBe(expected.effectiveDofPrinted)
  const sure = { standardUncertainty: 40, degreesOfFreedom: Infinity }
  expect(effectiveFreedom([...parts, sure])).toBeGreaterThan(dof)
  expect(effectiveFreedom([sure])).toBe(Infinity)
})

type Observed = { V: number[]; I_mA: number[]; phi: number[] }
type Results = Record<'R' | 'X' | 'Z' | 'uR' | 'uX' | 'uZ' | 'rRX' | 'rRZ' | 'rXZ', number> &
  Record<'rVI' | 'rVphi' | 'rIphi', number> & { means: number[]; u: number[] }

/** JCGM 100:2008 H.2: five sets of voltage, current and phase, observed together. */
const H2 = balanceVector<Observed, Results>('gum-h2')
const observed = meansTogether([H2.inputs.V, H2.inputs.I_mA.map((mA) => mA / 1000), H2.inputs.phi])
const FORMULAS = [
  ([v = 0, i = 1, phi = 0]: readonly number[]) => (v / i) * Math.cos(phi),
  ([v = 0, i = 1, phi = 0]: readonly number[]) => (v / i) * Math.sin(phi),
  ([v = 0, i = 1]: readonly number[]) => v / i,
]
const resultsOf = (correlations: number[][]) =>
  combineTogether(
    { standardUncertainties: observed.standardUncertainties, correlations },
    {
      means: FORMULAS.map((formula) => formula(observed.means)),
      sensitivities: sensitivitiesOf(observed, FORMULAS),
    },
  )
const near = (found: number | undefined, published: number) =>
  expect(Math.abs((found ?? Number.NaN) / published - 1)).toBeLessThan(1e-5)

test('voltage, current and phase of H.2 have the published means, doubts and correlations', () => {
  for (const i of [0, 1, 2]) {
    near(observed.means[i], H2.expected.means[i] ?? 0)
    near(observed.standardUncertainties[i], H2.expected.u[i] ?? 0)
  }
  near(observed.correlations[0]?.[1], H2.expected.rVI)
  near(observed.correlations[0]?.[2], H2.expected.rVphi)
  near(observed.correlations[1]?.[2], H2.expected.rIphi)
})

test('resistance, reactance and impedance of H.2, whose errors go together', () => {
  const found = resultsOf(observed.correlations)
  const { R, X, Z, uR, uX, uZ, rRX, rRZ, rXZ } = H2.expected
  for (const [i, value] of [R, X, Z].entries()) near(found.means[i], value)
  for (const [i, value] of [uR, uX, uZ].entries()) near(found.standardUncertainties[i], value)
  near(found.correlations[0]?.[1], rRX)
  near(found.correlations[0]?.[2], rRZ)
  near(found.correlations[1]?.[2], rXZ)
  // As the guide prints them.
  const printed = [
    [127.732, 0.071],
    [219.847, 0.295],
    [254.26, 0.236],
  ] as const
  for (const [i, [value, u]] of printed.entries()) {
    expect(Math.abs((found.means[i] ?? 0) - value)).toBeLessThan(0.0006)
    // 0.295 in print is 0.29558: cut, not rounded.
    expect(Math.abs((found.standardUncertainties[i] ?? 0) - u)).toBeLessThan(0.001)
  }
})

test('taken as independent, the resistance of H.2 looks more than twice as doubtful as it is', () => {
  const apart = resultsOf(observed.means.map((_, i) => observed.means.map((__, j) => +(i === j))))
  const together = resultsOf(observed.correlations)
  const [wide = 0, narrow = 0] = [apart, together].map((one) => one.standardUncertainties[0])
  expect(wide).toBeGreaterThan(2 * narrow)
})

test('errors that go together add up in full, opposite ones cancel; a square that is no mirror is refused', () => {
  const known = { standardUncertainties: [3, 4] }
  const sum = { means: [0], sensitivities: [[1, 1]] }
  const with_ = (r: number, mirror = r) =>
    combineTogether(
      {
        ...known,
        correlations: [
          [1, r],
          [mirror, 1],
        ],
      },
      sum,
    ).standardUncertainties[0]
  expect(with_(1)).toBeCloseTo(7, 12)
  expect(with_(0)).toBeCloseTo(5, 12)
  expect(with_(-1)).toBeCloseTo(1, 12)
  expect(() => with_(0.5, 0.4)).toThrow(expect.objectContaining({ code: 'WRONG_ORDER' }))
  expect(() => with_(1.1)).toThrow(expect.objectContaining({ code: 'OUT_OF_RANGE' }))
  expect(() => meansTogether([[1, 2], [1]])).toThrow(
    expect.objectContaining({ code: 'OUT_OF_RANGE' }),
  )
})
