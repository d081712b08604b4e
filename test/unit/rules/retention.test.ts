import { expect, test } from 'vitest'
import { COMPANY_LAYER, rulesetsOn } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import { keepUntil } from '@/lib/rules/retention'
import type { RulesetId } from '@/lib/rules/types'

const ENDED = new Date('2026-03-02T15:00:00Z')
const keepRecordsHours = (...ids: RulesetId[]) =>
  resolveParameters(rulesetsOn(ids, '2026-03-02'), COMPANY_LAYER).keepRecordsHours
const kept = (over: Partial<Parameters<typeof keepUntil>[0]> = {}, ...ids: RulesetId[]) => {
  const found = keepUntil({
    endedAt: ENDED,
    keepRecordsHours: keepRecordsHours(...ids),
    hasEntryPermit: false,
    hasToxicReading: false,
    ...over,
  })
  return found && [found.until.toISOString(), found.ruleId]
}

// 48 h: IFC 2018, 3503.3. A year: 29 CFR 1926.1205(f). Thirty years: 29 CFR 1910.1020(d)(1)(ii), from memory.
test.each([
  [{}, ['2026-03-04T15:00:00.000Z', 'ifc-permit-48h']],
  [{ hasEntryPermit: true }, ['2027-03-02T15:00:00.000Z', 'osha-cs-permit-1y']],
  [
    { hasEntryPermit: true, hasToxicReading: true },
    ['2056-03-02T15:00:00.000Z', 'osha-exposure-records-30y'],
  ],
])('under the fire code and with %j: %j', (over, expected) => {
  expect(kept(over, 'us-ifc-2018')).toEqual(expected)
})

test('where no text says how long there is no term, and a company that says more holds', () => {
  expect(kept({}, 'us-osha-1910')).toBeNull()
  const tenYears = { value: 87_660, setBy: [{ layerId: 'company', ruleId: null }], layersAsked: 3 }
  expect(kept({ keepRecordsHours: tenYears as never, hasEntryPermit: true })).toEqual([
    '2036-03-02T03:00:00.000Z',
    null,
  ])
})
