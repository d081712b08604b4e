import { describe, expect, test } from 'vitest'
import { fourInstants } from '@/lib/permit/instants'
import { at, DUTIES, dutiesUnder, openPermit, watchedPermit } from './build'

// NFPA 51B-2019, 5.6.1.1 and 5.6.3 (summaries read): an hour of watch, monitoring after it, each its own.
const MONITORED = dutiesUnder(['us-nfpa51b-2019'], { postWatchMin: 60, monitoringMin: 45 })

describe('the four ends of a permit', () => {
  test('while it is open only the end of its validity is known', () => {
    expect(fourInstants(openPermit(), at(30))).toEqual({
      workEnd: { kind: 'not_begun' },
      watchEnd: { kind: 'not_begun' },
      monitoringEnd: { kind: 'none' },
      permitEnd: { kind: 'expected', at: at(240) },
    })
  })

  test('each has its own instant once the torch is out', () => {
    const facts = watchedPermit(100, { duties: MONITORED })
    expect(fourInstants(facts, at(101))).toEqual({
      workEnd: { kind: 'passed', at: at(60) },
      watchEnd: { kind: 'expected', at: at(120) },
      monitoringEnd: { kind: 'not_begun' },
      permitEnd: { kind: 'expected', at: at(240) },
    })
    const watched = watchedPermit(120, { duties: MONITORED })
    expect(fourInstants(watched, at(130))).toMatchObject({
      watchEnd: { kind: 'passed', at: at(120) },
      monitoringEnd: { kind: 'expected', at: at(165) },
    })
    expect(fourInstants(watched, at(170)).monitoringEnd).toEqual({ kind: 'passed', at: at(165) })
  })

  test('a permit that ends while its watch runs does not end the watch', () => {
    const facts = watchedPermit(80, { validUntil: at(75), expiredAt: at(75) })
    const ends = fourInstants(facts, at(81))
    expect(ends.permitEnd).toEqual({ kind: 'passed', at: at(75) })
    expect(ends.watchEnd).toEqual({ kind: 'expected', at: at(120) })
  })

  test('where no watch is needed none is shown', () => {
    const facts = watchedPermit(60, { duties: { ...DUTIES, watchRequired: false, watchMin: 0 } })
    expect(fourInstants(facts, at(61)).watchEnd).toEqual({ kind: 'none' })
  })
})
