import { expect, test } from 'vitest'
import { countLine, EVENT_OF_LINE } from '@/lib/rules/stock-count'

const here = { status: 'full', siteId: 's', areaId: 'a' }
test.each([
  ['seen where it is', { areaId: 'a' }, here, 'found', 'counted'],
  ['seen, the area not said', { areaId: null }, here, 'found', 'counted'],
  ['seen in another area', { areaId: 'b' }, here, 'other_area', 'counted'],
  [
    'seen on its outfit',
    { areaId: 'b' },
    { ...here, status: 'in_use', areaId: null },
    'found',
    'counted',
  ],
  ['of another site', { areaId: null }, { ...here, siteId: 't' }, 'other_site', 'moved'],
  [
    'on record as lost',
    { areaId: null },
    { status: 'lost', siteId: null, areaId: null },
    'away',
    'found',
  ],
  [
    'on record as returned',
    { areaId: null },
    { status: 'returned', siteId: null, areaId: null },
    'away',
    'found',
  ],
  [
    'still on a truck by the record',
    { areaId: null },
    { ...here, status: 'in_transit' },
    'on_the_way',
    'unloaded',
  ],
  ['scrapped', { areaId: null }, { status: 'scrapped', siteId: null, areaId: null }, 'gone', null],
  ['not in the record', { areaId: null }, null, 'unknown', null],
  ['not seen', null, here, 'missing', 'lost'],
] as const)('a cylinder %s is told so', (_which, seen, known, line, event) => {
  expect(countLine('s', seen, known)).toBe(line)
  expect(EVENT_OF_LINE[line]).toBe(event)
})
