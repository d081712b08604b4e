import { describe, expect, test } from 'vitest'
import { reckon } from '@/app/(app)/reckon/reckon'
import { gasM3FromKg, psigFromGaugeKpa } from '@/lib/calc/units'
import { RECKON_FIELDS, RECKON_TOOLS, type ReckonTool, readReckon } from '@/lib/schemas/reckon'
import { vectors } from '../rules/vectors'

/** A calculator as its address asks it. */
function answer(tool: ReckonTool, query: string) {
  const values = Object.fromEntries(new URLSearchParams(query))
  const read = readReckon(tool, values, 'us')
  if (!read?.ok) throw new Error(`not read: ${JSON.stringify(read)}`)
  const found = reckon(tool, read.read)
  if (!found.ok) throw new Error(JSON.stringify(found.refusals))
  return found
}
const FULL = 'gas=oxygen&nominal=244&full=2200&gauge=2200&temperature=70'

describe('a calculator’s address', () => {
  test('a full cylinder holds what it is named by', () => {
    const [contents] = answer('contents', FULL).figures
    expect(gasM3FromKg('oxygen', contents?.value ?? 0)).toBeCloseTo(244 * 0.3048 ** 3, 3)
    expect(contents?.low).toBeLessThan(contents?.value ?? 0)
    expect(contents?.chain.length).toBeGreaterThan(0)
  })

  test('two cylinders last twice as long as one', () => {
    const time = (count: number) =>
      answer('run-time', `${FULL}&changeAt=150&draw=140&cylinders=${count}`).figures[0]?.value ?? 0
    expect(time(2) / time(1)).toBeCloseTo(2, 9)
  })

  test('a hose takes something, and the regulator gives it', () => {
    const { figures } = answer('hose', 'gas=oxygen&flow=140&bore=quarter&length=50&tip=30')
    const psi = (code: string) =>
      psigFromGaugeKpa(figures.find((figure) => figure.code === code)?.value ?? 0)
    expect(psi('loss')).toBeGreaterThan(0)
    expect(psi('regulator')).toBeCloseTo(30 + psi('loss'), 6)
  })

  test('any fall that the gauge shows is out of service', () => {
    const leak = (end: number) =>
      answer(
        'leak',
        `gas=oxygen&bore=quarter&length=50&start=60&end=${end}&elapsed=10&resolution=2`,
      ).facts[0]?.code
    expect([leak(52), leak(60)]).toEqual(['outOfService', 'noFallSeen'])
  })

  // 49 CFR 173.6: 220 lb a cylinder, 440 lb on the vehicle, gross.
  test('a load of 430 lb rides as materials of trade, one of 450 lb does not', () => {
    const load = (other: number) =>
      answer(
        'load',
        `weights=160,160,90&other=${other}&purpose=supports_principal_business&carrier=private`,
      ).facts[0]?.code
    expect([load(20), load(40)]).toEqual(['isTrade', 'notTrade'])
  })

  // Published: the ADR vector of test/vectors/rules/permit-decision-vectors.json.
  test('a small load under ADR has the points that are published', () => {
    const vector = vectors.find((one) => one.id === 'xv-011-adr')
    if (!vector) throw new Error('the vector is gone')
    const items = vector.input?.items as { category: number; quantity: number }[]
    const { points, small_load } = vector.expected as unknown as {
      points: number
      small_load: boolean
    }
    const [burns, rest] = [2, 3].map((of) => items.find((one) => one.category === of)?.quantity)
    const load = (litres: number) => {
      const read = readReckon('small-load', { flammable: `${burns}`, inert: `${litres}` }, 'si')
      if (!read?.ok) throw new Error('not read')
      const answered = reckon('small-load', read.read)
      if (!answered.ok) throw new Error('not reckoned')
      return answered
    }
    expect(load(rest ?? 0).figures[0]?.value).toBe(points)
    expect(load(rest ?? 0).facts[0]?.code).toBe(small_load ? 'isSmallLoad' : '')
    expect(load((rest ?? 0) + 51).facts[0]?.code).toBe('notSmallLoad')
  })

  test('cylinders on a manifold are as many as the draw or the hours ask', () => {
    const { figures } = answer(
      'manifold',
      'gas=acetylene&contents=15.4&draw=60&burn=1&air=70&place=indoors',
    )
    const of = (code: string) => figures.find((figure) => figure.code === code)?.value ?? 0
    expect(of('cylinders')).toBe(Math.max(of('byDraw'), of('byAmount')))
    expect(of('byDraw')).toBeGreaterThan(1)
  })

  test.each(RECKON_TOOLS)(
    '%s names the box that holds no number, and waits for empty ones',
    (tool) => {
      const number = RECKON_FIELDS[tool].find((field) => field.kind !== 'choice')
      const read = readReckon(tool, { [number?.name ?? '']: 'much' }, 'us')
      expect(read).toEqual({ ok: false, wrong: expect.arrayContaining([number?.name]) })
      expect(readReckon(tool, {}, 'us')).toBeNull()
    },
  )
})
