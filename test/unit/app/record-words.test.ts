import { createTranslator } from 'next-intl'
import { expect, test } from 'vitest'
import { detailOf } from '@/app/(app)/permits/[permitId]/record/entry-words'
import { keepWords } from '@/app/(app)/permits/[permitId]/record/keep-words'
import type { RecordEntry } from '@/lib/data/records/entries'
import messages from '@/messages/en.json'

const onError = (error: Error) => {
  throw error
}
const all = createTranslator({ locale: 'en', messages, onError })
const t = createTranslator({ locale: 'en', messages, namespace: 'record', onError })
const prefs = { units: 'us', clock: '24', timeZone: 'America/New_York' } as const

const round = (params: RecordEntry['params']) =>
  detailOf(
    {
      what: 'rounds',
      params: { clear: 2, warm: 0, smoke: 0, lateMs: 0, ...params },
    } as never,
    { t, all, prefs } as never,
  )

test('a round says what its posts were, and where nobody’s presence is proven', () => {
  expect(round({ unscanned: '', isProven: 'yes' })).toBe('2 clear')
  expect(round({ unscanned: 'Below (The label is gone)', isProven: 'no' })).toBe(
    '2 clear. Presence not proven at Below (The label is gone)',
  )
})

test('until when a record is kept is said with its year, which may be thirty on', () => {
  const until = new Date('2056-11-28T12:00:00Z')
  const words = keepWords(
    { keep: { until, ruleId: null }, endedAt: new Date('2026-11-28T12:00:00Z') } as never,
    t as never,
    prefs,
  )
  expect(words).toContain('28 Nov 2056')
})
