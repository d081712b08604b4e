import { expect, test } from 'vitest'
import { type TrailEventRow, trailFromRows } from '@/lib/calc/trail-rows'
import { gaugeKpaFromPsig } from '@/lib/calc/units'
import { sizeOf } from '@/seed/reference'

const size = sizeOf('oxygen-244')
const cylinders = [{ id: 'a', size: { ...size, gasId: 'oxygen' }, tareKg: 55 }]

const event = (given: Partial<TrailEventRow>): TrailEventRow => ({
  id: 'e',
  cylinderId: 'a',
  kind: 'read',
  siteId: 's',
  outfitId: null,
  atMs: 0,
  gaugeKpa: null,
  weightKg: null,
  temperatureK: 294.26,
  contentsKg: null,
  contentsUKg: null,
  markedEmpty: false,
  ...given,
})

const trailOf = (
  events: readonly TrailEventRow[],
  corrections?: ReadonlyMap<string, { contentsKg: number | null }>,
) =>
  trailFromRows({
    events,
    cylinders,
    logs: [
      {
        outfitId: 'o',
        jobId: 'j',
        crewId: 'c',
        siteId: 's',
        cutId: 'known',
        pieces: 3,
        fromMs: 0,
        toMs: 1,
      },
      {
        outfitId: 'o',
        jobId: 'j',
        crewId: 'c',
        siteId: 's',
        cutId: null,
        pieces: 3,
        fromMs: 0,
        toMs: 1,
      },
      {
        outfitId: null,
        jobId: 'j',
        crewId: 'c',
        siteId: 's',
        cutId: 'known',
        pieces: 3,
        fromMs: 0,
        toMs: 1,
      },
    ],
    cuts: [{ cutId: 'known', count: 6, oxygenKg: 12, fuelKg: 3 }],
    side: 'oxygenKg',
    ...(corrections ? { corrections } : {}),
  })

test('work takes its pieces’ share of the estimate; without a cut nobody knows what it should take', () => {
  expect(trailOf([]).works.map((work) => work.expectedKg)).toEqual([6, null])
})

test('a delivery is full at the filler’s word, an empty mark is the heel, a move tells nothing', () => {
  const { readings } = trailOf([
    event({ kind: 'received' }),
    event({ kind: 'moved' }),
    event({ kind: 'read', markedEmpty: true }),
    event({ kind: 'read', cylinderId: 'of another gas', contentsKg: 3 }),
  ])
  expect(readings.map((one) => [one.kind, one.gasKg])).toEqual([
    ['filled', size.nominalKg],
    ['read', size.heelKg],
  ])
})

test('a gauge of 1,240 typed as 2,140 may have been meant to be 1,240: 5.1 kg of oxygen, not 8.9', () => {
  const typed = event({ gaugeKpa: gaugeKpaFromPsig(2140), contentsKg: 8.9, contentsUKg: 0.25 })
  const [reading] = trailOf([typed]).readings
  const swapped = reading?.meantAs().filter((one) => one.how === 'digits_swapped') ?? []
  // 1,240 of 2,200 psi of 244 ft³ is 137 ft³ as an ideal gas; the real gas holds a little less.
  const idealKg = (1240 / 2200) * size.nominalKg
  expect(swapped.some((one) => Math.abs((one.gasKg ?? 0) - idealKg) < 0.2)).toBe(true)
})

test('a gauge that shows what the other side’s does may have been read off the other one', () => {
  const at = { outfitId: 'o', atMs: 0, gaugeKpa: 1000 }
  const other = event({ ...at, id: 'f', cylinderId: 'of another gas', atMs: 60_000 })
  const own = event({ ...at, contentsKg: 0.6 })
  const hows = (events: TrailEventRow[]) =>
    trailOf(events)
      .readings[0]?.meantAs()
      .map((one) => one.how)
  expect(hows([own, other])).toContain('other_gauge')
  expect(hows([own, { ...other, gaugeKpa: 400 }])).not.toContain('other_gauge')
})

test('a correction replaces what was read, or takes it out', () => {
  const typed = event({ id: 'typed', contentsKg: 8.9, contentsUKg: 0.25, gaugeKpa: 14_755 })
  const replaced = trailOf([typed], new Map([['typed', { contentsKg: 5.1 }]])).readings
  expect(replaced.map((one) => [one.gasKg, one.meantAs()])).toEqual([[5.1, []]])
  expect(trailOf([typed], new Map([['typed', { contentsKg: null }]])).readings).toEqual([])
})
