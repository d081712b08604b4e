import { describe, expect, test } from 'vitest'
import { dayAround } from '@/app/(app)/permits/day-around'

const HOUR_MS = 3_600_000
const ZONE = 'America/New_York'

const around = (iso: string) => {
  const { fromMs, toMs } = dayAround(Date.parse(iso), ZONE)
  return { from: new Date(fromMs).toISOString(), hours: (toMs - fromMs) / HOUR_MS }
}

describe('dayAround', () => {
  // New York is five hours behind UTC in winter: 6:00 there is 11:00 UTC.
  test('is the working day from its start until mid-afternoon', () => {
    expect(around('2026-12-01T11:00:00Z')).toEqual({ from: '2026-12-01T11:00:00.000Z', hours: 14 })
    expect(around('2026-12-01T20:59:00Z')).toEqual({ from: '2026-12-01T11:00:00.000Z', hours: 14 })
  })

  test('moves on in the evening, so that five hours are always ahead', () => {
    expect(around('2026-12-02T00:16:00Z')).toEqual({ from: '2026-12-01T15:00:00.000Z', hours: 14 })
  })

  test('keeps three hours behind a night before the working day begins', () => {
    expect(around('2026-12-01T09:30:00Z')).toEqual({ from: '2026-12-01T06:00:00.000Z', hours: 14 })
  })
})
