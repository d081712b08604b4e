import { expect, test } from 'vitest'
import { quantile } from '@/lib/calc/distributions'
import { quadrature, rectangular } from '@/lib/calc/stats'
import vectors from '../../vectors/calc/balance.json'

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
