import { createTranslator } from 'next-intl'
import { expect, test } from 'vitest'
import { type Say, sayReason } from '@/app/_components/form/reason-words'
import { refuseRules } from '@/lib/data/rules-refuse'
import type { AppError } from '@/lib/errors'
import messages from '@/messages/en.json'

const t = createTranslator({ locale: 'en', messages }) as unknown as Say
const prefs = { units: 'us', clock: '24', timeZone: 'America/New_York' } as const

function refusal(...given: Parameters<typeof refuseRules>): AppError {
  try {
    refuseRules(...given)
  } catch (error) {
    return error as AppError
  }
  throw new Error('nothing was refused')
}

test('nothing wrong is not refused', () => {
  expect(() => refuseRules([], [])).not.toThrow()
})

test('a layer that would loosen an answer is refused with each thing and its case, in words', () => {
  const error = refusal(
    [],
    [{ probeId: 'pv-002-permit-area-clear', what: ['postWatchMin', 'fire-watch'] }],
  )
  expect(error.code).toBe('RULES_REFUSED')
  const said = error.reasons.map((reason) => sayReason(t, prefs, reason))
  expect(said.map(({ what, cure }) => `${what} ${cure}`)).toEqual([
    expect.stringMatching(
      /^It would loosen this: Watch after torch out\. In the case: Permit area/,
    ),
    expect.stringContaining(messages.precautions['fire-watch']),
  ])
})

test('problems name their values in words', () => {
  const error = refusal([
    { code: 'not_whole', field: 'parameters.capHours', params: { name: 'capHours' } },
  ])
  expect(error.reasons.map((reason) => sayReason(t, prefs, reason).what)).toEqual([
    'Longest permit takes a whole number.',
  ])
})
