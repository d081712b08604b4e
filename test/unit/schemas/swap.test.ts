import { describe, expect, test } from 'vitest'
import { MOST_PLACES } from '@/lib/schemas/outfit'
import { swapSchema } from '@/lib/schemas/swap'

const typedAt = (place: number) =>
  swapSchema.safeParse({
    key: '6f1c2f8e-6f57-4b0e-9d5e-0a8a4f1f0c11',
    outfitId: '6f1c2f8e-6f57-4b0e-9d5e-0a8a4f1f0c12',
    side: 'oxygen',
    place: String(place),
    onSerial: 'OX-20402',
    shutAndBled: 'yes',
    leakTested: 'yes',
  })

describe('swapSchema', () => {
  test('takes every place that an outfit may have, and none behind them', () => {
    expect(typedAt(MOST_PLACES).data?.place).toBe(MOST_PLACES)
    expect(typedAt(MOST_PLACES + 1).error?.issues[0]?.path).toEqual(['place'])
  })
})
