import { describe, expect, test } from 'vitest'
import { JUDGED_BOXES, listSettingsForm, listSettingsSchema } from '@/lib/schemas/list-settings'
import messages from '@/messages/en.json'

const issues = (typed: Record<string, string>) =>
  listSettingsForm.safeParse(typed).error?.issues.map(({ path, message }) => [path[0], message])

describe('what a list is estimated by', () => {
  test('is as usual where nothing is typed, and where the usual figure is', () => {
    expect(listSettingsForm.parse({ purity: '', 'judged-overhead': '1.3' })).toEqual({
      settings: {},
    })
  })

  test('keeps only what differs, and reads back the same', () => {
    const { settings } = listSettingsForm.parse({
      purity: '99',
      'judged-wind': '1.5',
      fuelLow: '10',
      fuelLowUnit: 'ft3/h',
      fuelHigh: '20',
      fuelHighUnit: 'ft3/h',
    })
    expect(settings).toMatchObject({ oxygenPurityPct: 99, judgements: { wind: 1.5 } })
    // A cubic foot is 0.3048³ m³ exactly.
    expect(settings.ownFuelFlowM3PerS?.[0]).toBeCloseTo((10 * 0.3048 ** 3) / 3600, 12)
    expect(listSettingsSchema.parse(JSON.parse(JSON.stringify(settings)))).toEqual(settings)
  })

  test.each([
    [{ purity: '94' }, [['purity', 'OUT_OF_RANGE']]],
    [{ purity: 'pure' }, [['purity', 'ENTER_A_NUMBER']]],
    [{ 'judged-overhead': '0.5' }, [['judged-overhead', 'OUT_OF_RANGE']]],
    [{ 'judged-mostTimes': '6' }, [['judged-mostTimes', 'OUT_OF_RANGE']]],
    [{ fuelLow: '10', fuelLowUnit: 'ft3/h' }, [['fuelHigh', 'ENTER_A_NUMBER']]],
    [
      { fuelLow: '20', fuelLowUnit: 'ft3/h', fuelHigh: '10', fuelHighUnit: 'ft3/h' },
      [['fuelHigh', 'OUT_OF_RANGE']],
    ],
  ])('with %j names the box', (typed, expected) => {
    expect(issues(typed)).toEqual(expected)
  })

  test('has words for every judged figure', () => {
    for (const box of JUDGED_BOXES) expect(messages.jobs.judgedBox[box]).toBeTruthy()
  })
})
