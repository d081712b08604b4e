import fc from 'fast-check'
import { describe, expect, test, vi } from 'vitest'
import { explainTrail } from '@/lib/calc/hypotheses'
import { evidenceOf } from '@/lib/calc/hypotheses-evidence'
import { CAUSE_PRIORS, HOW_SHARES, SETTLED_BY } from '@/lib/calc/hypotheses-priors'
import { meantValues } from '@/lib/calc/hypotheses-sizes'
import { stretchesOf } from '@/lib/calc/hypotheses-stretches'
import type { Trail, TrailReading } from '@/lib/calc/hypotheses-types'
import { type FaultKind, isNamed, simulateCompany } from './trail-company'

// Whole companies are made up and explained: some seconds where the machine is busy.
vi.setConfig({ testTimeout: 60_000 })

const HOUR = 3_600_000
const DAY = 24 * HOUR

const reading = (
  given: Partial<TrailReading> & Pick<TrailReading, 'atMs' | 'gasKg'>,
): TrailReading => ({
  id: `${given.cylinderId ?? 'a'} ${given.atMs}`,
  cylinderId: 'a',
  sizeId: 'large',
  nominalKg: 9,
  heelKg: 0.6,
  siteId: 'north',
  kind: 'read',
  outfitId: null,
  standardUncertaintyKg: 0.1,
  meantAs: () => [],
  ...given,
})

describe('what a typed value may have been meant to be', () => {
  test('digits that change places, a digit lost or added, another unit', () => {
    const meant = meantValues({ value: 2140, unit: 'psi' })
    expect(meant).toContainEqual({ how: 'digits_swapped', value: 1240 })
    expect(meant).toContainEqual({ how: 'digits_swapped', value: 2410 })
    expect(meant).toContainEqual({ how: 'digit_lost', value: 21_400 })
    expect(meant).toContainEqual({ how: 'digit_added', value: 214 })
    // 1 bar = 100 kPa and 1 psi = 6.894757 kPa (NIST SP 811, appendix B).
    const [fromBar] = meant.filter((one) => one.how === 'unit')
    expect(fromBar?.value).toBeCloseTo((2140 * 100) / 6.894757, 1)
  })

  test('never the value that was typed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4000 }), (value) => {
        const meant = meantValues({ value, unit: 'psi' })
        expect(meant.some((one) => one.value === value)).toBe(false)
        for (const { how, value: other } of meant)
          if (how === 'digits_swapped')
            expect([...String(other).padStart(String(value).length, '0')].sort()).toEqual(
              [...String(value)].sort(),
            )
      }),
    )
  })
})

describe('stretches', () => {
  test('cylinders that took turns on one outfit are one stretch with all its work; a stand is another', () => {
    const on = { outfitId: 'rig 1', kind: 'read' } as const
    const trail: Trail = {
      readings: [
        reading({ atMs: 0, gasKg: 9, kind: 'filled' }),
        reading({ atMs: 7 * HOUR, gasKg: 9, outfitId: 'rig 1', kind: 'put_on' }),
        reading({ atMs: 10 * HOUR, gasKg: 1, outfitId: 'rig 1', kind: 'taken_off' }),
        reading({ cylinderId: 'b', atMs: 10 * HOUR, gasKg: 9, outfitId: 'rig 1', kind: 'put_on' }),
        reading({ cylinderId: 'b', atMs: 16 * HOUR, gasKg: 5, ...on }),
        reading({ cylinderId: 'b', atMs: 31 * HOUR, gasKg: 5, ...on }),
        reading({ atMs: 40 * HOUR, gasKg: 1 }),
      ],
      works: [8, 11].map((hour) => ({
        outfitId: 'rig 1',
        jobId: `job ${hour}`,
        groupId: 'crew',
        fromMs: hour * HOUR,
        toMs: (hour + 3) * HOUR,
        expectedKg: 6,
      })),
    }
    const { stretches, before, fillings } = stretchesOf(trail)
    const kinds = stretches.map((one) => [one.kind, one.ends, one.expectedKg, one.jobIds])
    expect(kinds).toEqual([
      ['standing', [1], 0, []],
      ['standing', [6], 0, []],
      ['work', [2, 4], 12, ['job 8', 'job 11']],
      ['hanging', [5], 0, []],
    ])
    expect([...before]).toEqual([-1, 0, 1, -1, 3, 4, 2])
    expect([...fillings]).toEqual([0, 0, 0, 1, 1, 1, 0])
  })

  test('work that no reading closes, or that says not what was cut, is not balanced', () => {
    const readings = [
      reading({ atMs: 0, gasKg: 9, outfitId: 'rig 1', kind: 'put_on' }),
      reading({ atMs: 5 * HOUR, gasKg: 6, outfitId: 'rig 1' }),
    ]
    const work = { outfitId: 'rig 1', jobId: null, groupId: 'crew', fromMs: HOUR }
    const expectedOf = (toMs: number, expectedKg: number | null) =>
      stretchesOf({ readings, works: [{ ...work, toMs, expectedKg }] }).stretches[0]?.expectedKg
    expect(expectedOf(4 * HOUR, 3)).toBe(3)
    expect(expectedOf(7 * HOUR, 3)).toBeNull()
    expect(expectedOf(4 * HOUR, null)).toBeNull()
  })

  test('readings out of order are an error', () => {
    const readings = [reading({ atMs: DAY, gasKg: 9 }), reading({ atMs: 0, gasKg: 9 })]
    expect(() => stretchesOf({ readings, works: [] })).toThrow(/WRONG_ORDER/)
  })
})

describe('evidence', () => {
  const density = (x: number, mean: number, sd: number) =>
    Math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI))

  test('equals the likelihood summed over every size, by the trapezoid rule', () => {
    const size = fc.double({ min: -6, max: 6, noNaN: true })
    const sd = fc.double({ min: 0.2, max: 3, noNaN: true })
    fc.assert(
      fc.property(size, sd, size, sd, fc.boolean(), (best, bestSd, mean, priorSd, isPositive) => {
        fc.pre(!isPositive || mean > -1)
        const prior = { mean, sd: priorSd, weight: 1, isPositive }
        const sizeVariance = bestSd ** 2
        const statistic = best ** 2 / sizeVariance
        const { logRatio } = evidenceOf({ statistic, size: best, sizeVariance }, [prior])
        const step = 0.002
        let [sum, whole] = [0, 0]
        for (let x = isPositive ? step / 2 : -30; x < 30; x += step) {
          const belief = density(x, mean, priorSd)
          whole += belief * step
          sum += belief * step * Math.exp((best * x - (x * x) / 2) / sizeVariance)
        }
        expect(logRatio).toBeCloseTo(Math.log(sum / whole), 2)
      }),
      { numRuns: 40 },
    )
  })

  test('of a size that was foretold beats a vague one, and a wrong one loses', () => {
    const likelihood = { statistic: 64, size: 8, sizeVariance: 1 }
    const told = { mean: 8, sd: 0.2, weight: 1, isPositive: true }
    const vague = { mean: 0, sd: 8, weight: 1, isPositive: false }
    const wrong = { mean: -8, sd: 0.2, weight: 1, isPositive: false }
    const of = (prior: typeof told) => evidenceOf(likelihood, [prior]).logRatio
    expect(of(told)).toBeGreaterThan(of(vague))
    expect(of(wrong)).toBeLessThan(0)
    const mixed = evidenceOf(likelihood, [
      { ...wrong, weight: 0.5 },
      { ...told, weight: 0.5 },
    ])
    expect(mixed.best).toBe(1)
    expect(mixed.logRatio).toBeCloseTo(of(told) + Math.log(0.5), 9)
  })
})

test('every cause has a prior below one in ten and a record that settles it', () => {
  expect(Object.keys(CAUSE_PRIORS).sort()).toEqual(Object.keys(SETTLED_BY).sort())
  for (const prior of Object.values(CAUSE_PRIORS)) expect(prior).toBeLessThan(0.1)
  expect(Object.values(HOW_SHARES).reduce((sum, one) => sum + one, 0)).toBeLessThan(1)
})

const FAULTS: FaultKind[] = ['leak_idle', 'swap_not_logged', 'reading_mistyped', 'work_not_logged']

describe('made-up companies', () => {
  test('with nothing wrong are left in peace', () => {
    for (const seed of ['calm 1', 'calm 2', 'calm 3', 'calm 4'])
      expect(explainTrail(simulateCompany(seed, []).trail).findings).toEqual([])
  })

  test.each(FAULTS.slice(0, 3))('a planted %s stands in the best set', (kind) => {
    const companies = [1, 2, 3, 4].map((n) => simulateCompany(`${kind} ${n}`, [kind]))
    for (const { trail, planted } of companies) {
      expect(planted.map((one) => one.kind)).toEqual([kind])
      const { findings } = explainTrail(trail)
      expect(planted.filter((one) => !isNamed(one, findings))).toEqual([])
    }
  })

  test('all at once are told apart; probabilities and chance add up to one', () => {
    const { trail, planted } = simulateCompany('all at once', FAULTS)
    const { findings, critical } = explainTrail(trail)
    expect(planted).toHaveLength(4)
    for (const kind of FAULTS.slice(0, 3))
      expect(findings.some(({ hypotheses }) => hypotheses[0]?.kind === kind)).toBe(true)
    for (const { hypotheses, chance } of findings) {
      const sum = hypotheses.reduce((total, one) => total + one.probability, chance)
      expect(sum).toBeCloseTo(1, 9)
      expect(hypotheses.some((one) => one.isEqualFirst && one.statistic > critical)).toBe(true)
      expect(chance).toBeLessThanOrEqual(0.05)
    }
  })

  test('the same record gives the same findings to the bit, whatever the order of its cylinders', () => {
    const { trail } = simulateCompany('twice', ['leak_idle', 'swap_not_logged'])
    expect(explainTrail(trail)).toMatchObject({ findings: explainTrail(trail).findings })
    const turned = [...trail.readings].sort(
      (a, b) => b.cylinderId.localeCompare(a.cylinderId) || a.atMs - b.atMs,
    )
    const named = (one: Trail) =>
      explainTrail(one)
        .findings.map(({ hypotheses: [top] }) => `${top?.kind} ${top?.statistic.toFixed(6)}`)
        .sort()
    expect(named({ ...trail, readings: turned })).toEqual(named(trail))
  })
})

describe('single causes', () => {
  const idle = (gasKg: readonly number[], first: Partial<TrailReading> = {}): Trail => ({
    readings: gasKg.map((kg, week) =>
      reading({
        atMs: week * 7 * DAY,
        gasKg: kg,
        ...(week === 0 ? { kind: 'filled' as const, ...first } : {}),
      }),
    ),
    works: [],
  })

  test('a cylinder short from the first day is a short filling, one that goes on losing leaks', () => {
    const [short] = explainTrail(idle([9, 6.5, 6.5, 6.5, 6.5])).findings
    expect(short?.hypotheses[0]).toMatchObject({
      kind: 'short_fill',
      settledBy: 'delivery_note_and_weight',
    })
    expect(short?.hypotheses[0]?.sizeKg).toBeCloseTo(2.5, 0)
    const [leak] = explainTrail(idle([9, 8.3, 7.6, 6.9, 6.2])).findings
    expect(leak?.hypotheses[0]).toMatchObject({
      kind: 'leak_idle',
      settledBy: 'soap_and_read_twice',
    })
    expect(leak?.hypotheses[0]?.sizeKg).toBeCloseTo(2.8, 0)
  })

  test('what a liquid container boils off as expected is no finding, four times as much is', () => {
    const boilOffKgPerDay = { large: 0.1 }
    expect(explainTrail({ ...idle([9, 8.3, 7.6, 6.9]), boilOffKgPerDay }).findings).toEqual([])
    const [finding] = explainTrail({ ...idle([9, 6.2, 3.4, 0.6]), boilOffKgPerDay }).findings
    expect(finding?.hypotheses[0]).toMatchObject({
      kind: 'boil_off',
      settledBy: 'rate_of_the_vessel',
    })
  })

  test('one found fuller and another emptier than they were left were taken for each other', () => {
    const trail: Trail = {
      readings: [
        reading({ atMs: 0, gasKg: 9, kind: 'filled' }),
        reading({ cylinderId: 'b', atMs: 0, gasKg: 9, kind: 'filled' }),
        reading({ atMs: 7 * HOUR, gasKg: 9, outfitId: 'rig 1', kind: 'put_on' }),
        reading({ atMs: 16 * HOUR, gasKg: 3, outfitId: 'rig 1', kind: 'taken_off' }),
        reading({ atMs: 40 * HOUR, gasKg: 9 }),
        reading({ cylinderId: 'b', atMs: 40 * HOUR, gasKg: 3 }),
      ],
      works: [
        {
          outfitId: 'rig 1',
          jobId: 'job',
          groupId: 'crew',
          fromMs: 8 * HOUR,
          toMs: 15 * HOUR,
          expectedKg: 6,
        },
      ],
    }
    const [finding] = explainTrail(trail).findings
    expect(finding?.hypotheses[0]?.kind).toBe('wrong_cylinder_logged')
    expect([...(finding?.hypotheses[0]?.cylinderIds ?? [])].sort()).toEqual(['a', 'b'])
    expect(finding?.hypotheses[0]?.sizeKg).toBeCloseTo(6, 0)
  })
})
