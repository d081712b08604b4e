import { describe, expect, test } from 'vitest'
import { contentsFromReading } from '@/lib/calc/contents'
import type {
  Contents,
  ContentsOutcome,
  CylinderReading,
  CylinderSize,
} from '@/lib/calc/contents-types'
import { gasKgFromFt3, gaugeKpaFromPsig, kelvinFromFahrenheit } from '@/lib/calc/units'

const oxygen: CylinderSize = {
  gas: 'oxygen',
  nominalKg: gasKgFromFt3('oxygen', 244),
  ratedGaugePressureKpa: gaugeKpaFromPsig(2200),
}
const acetylene: CylinderSize = { gas: 'acetylene', nominalKg: gasKgFromFt3('acetylene', 225) }
const propane: CylinderSize = { gas: 'propane', nominalKg: 45.36 }
const gauge = (psig: number, temperatureF = 70): CylinderReading => ({
  kind: 'gauge',
  gaugePressureKpa: gaugeKpaFromPsig(psig),
  temperatureK: kelvinFromFahrenheit(temperatureF),
})

function contentsOf(outcome: ContentsOutcome): Contents {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome
}

describe('contentsFromReading', () => {
  test('a full oxygen cylinder at its rated pressure holds its nominal contents', () => {
    expect(contentsOf(contentsFromReading(gauge(2200), oxygen)).gasKg).toBeCloseTo(
      oxygen.nominalKg,
      9,
    )
  })

  test('the terms of the chain make up the standard uncertainty in quadrature', () => {
    const contents = contentsOf(contentsFromReading(gauge(1100), oxygen))
    const sum = contents.chain.reduce((total, term) => total + term.contribution ** 2, 0)
    expect(Math.sqrt(sum)).toBeCloseTo(contents.standardUncertaintyKg, 12)
    expect(contents.chain.map((term) => term.code)).toEqual([
      'gauge',
      'temperature',
      'waterVolume',
      'realGasFit',
    ])
  })

  // 2.5 % of 4000 psi as a limit is 57.7 psi; the published table falls 22.3 ft³ from 2200 to 2000 psig.
  test('the gauge term is its class times the slope of the published contents table', () => {
    const contents = contentsOf(contentsFromReading(gauge(2100), oxygen))
    const slopeKgPerPsi = gasKgFromFt3('oxygen', 244 - 221.7) / 200
    expect(contents.chain[0]?.contribution).toBeCloseTo((slopeKgPerPsi * 100) / Math.sqrt(3), 2)
  })

  test('a better gauge narrows the interval', () => {
    const reading = gauge(1100) as Extract<CylinderReading, { kind: 'gauge' }>
    const better = contentsFromReading(
      { ...reading, gauge: { accuracyFractionOfFullScale: 0.005 } },
      oxygen,
    )
    expect(contentsOf(better).standardUncertaintyKg).toBeLessThan(
      contentsOf(contentsFromReading(reading, oxygen)).standardUncertaintyKg / 2,
    )
  })

  test('contents are never below nothing', () => {
    const contents = contentsOf(contentsFromReading(gauge(0), oxygen))
    expect(contents.low90Kg).toBe(0)
    expect(contents.gasKg).toBeGreaterThan(0)
  })

  test('acetylene is gross weight less tare, 15 lb being 221 ft³ at 70 °F', () => {
    const pound = 0.453_592_37
    const reading: CylinderReading = { kind: 'weight', grossKg: 235 * pound, tareKg: 220 * pound }
    const contents = contentsOf(contentsFromReading(reading, acetylene))
    expect(contents.gasKg).toBeCloseTo(gasKgFromFt3('acetylene', 221.4), 2)
    expect(contents.chain.map((term) => term.code)).toContain('solventLoss')
  })

  test('acetylene by gauge is accepted with an interval several times that of a scale', () => {
    const byGauge = contentsOf(contentsFromReading(gauge(125), acetylene))
    const byScale = contentsOf(
      contentsFromReading({ kind: 'weight', grossKg: 103.4, tareKg: 100 }, acetylene),
    )
    expect(byGauge.gasKg).toBeCloseTo(acetylene.nominalKg / 2, 1)
    expect(byGauge.standardUncertaintyKg).toBeGreaterThan(1.3 * byScale.standardUncertaintyKg)
    expect((byGauge.high90Kg - byGauge.low90Kg) / acetylene.nominalKg).toBeGreaterThan(0.25)
  })

  test('a cylinder delivered as full holds its nominal contents within the filler’s tolerance', () => {
    const contents = contentsOf(contentsFromReading({ kind: 'asDelivered' }, propane))
    expect(contents.gasKg).toBe(45.36)
    expect(contents.standardUncertaintyKg).toBeCloseTo((0.05 * 45.36) / Math.sqrt(3), 12)
  })

  test('propane by gauge is refused: its pressure says nothing of what is left', () => {
    expect(contentsFromReading(gauge(110), propane)).toMatchObject({
      ok: false,
      refusals: [
        { code: 'GAUGE_TELLS_NOTHING', field: 'reading.kind', instead: ['weighCylinder'] },
      ],
    })
  })

  test('every reason to refuse a reading comes at once', () => {
    expect(contentsFromReading(gauge(3500, 160), oxygen)).toMatchObject({
      refusals: [
        { code: 'OUTSIDE_FIT', field: 'reading.gaugePressureKpa', limit: { min: 0 } },
        { code: 'OUTSIDE_FIT', field: 'reading.temperatureK', limit: { min: 243, max: 328 } },
      ],
    })
  })

  test.each([Number.NaN, -1])('a gauge of %d is refused', (psig) => {
    expect(contentsFromReading(gauge(psig), oxygen)).toMatchObject({ ok: false })
    expect(contentsFromReading(gauge(psig), acetylene)).toMatchObject({ ok: false })
  })

  test('an oxygen size without volume or rated pressure is refused', () => {
    expect(contentsFromReading(gauge(500), { gas: 'oxygen', nominalKg: 9 })).toMatchObject({
      refusals: [{ code: 'SIZE_INCOMPLETE', field: 'size.waterVolumeL' }],
    })
  })

  // Manly 1916 prints 212 lb empty and 230 full beside a 250 ft³ cylinder: the weights are a 200 ft³ one’s.
  test('a weight far from empty and full is refused', () => {
    const reading: CylinderReading = { kind: 'weight', grossKg: 190, tareKg: 34 }
    expect(contentsFromReading(reading, propane)).toMatchObject({
      refusals: [{ code: 'OUT_OF_RANGE', field: 'reading.grossKg' }],
    })
  })
})
