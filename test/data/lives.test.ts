import { expect, test } from 'vitest'
import { type Act, perform } from '../lives/acts'
import { broken } from '../lives/invariants'
import { liveThem } from '../lives/life'
import { tryRaw } from '../lives/raw'
import { openStage } from '../lives/stage'
import { testDatabase } from '../setup/database'

/** These, or as many as fit into the time on a busy machine; `npm run proof -- lives` lives ten thousand. */
const WANTED = { lives: 200, mostCommands: 30, from: 1_000_000, mostMs: 150_000 }

test('in random lives of permits nothing breaks, and lib/permit, the actions and the triggers agree', async () => {
  const told = await liveThem(testDatabase(), WANTED)
  expect(told.lives).toBeGreaterThan(20)
  // Lives that never came to a proper end would have tried little of the watch.
  expect(told.ended.closed ?? 0).toBeGreaterThan(0)
}, 400_000)

const ISSUED: readonly Act[] = [
  { name: 'agree', by: 'operator' },
  { name: 'acknowledge', by: 'fireWatch' },
  { name: 'issue', by: 'pai', hours: 4, arrivedMin: 5 },
]
const LOOKED: readonly Act[] = [
  { name: 'look', by: 'foreman' },
  { name: 'air', oxygen: 20.9, lel: 0, cause: '' },
]
const SMOKE: Act = { name: 'round', by: 'fireWatch', answer: 'smoke' }

test('a permit on which stop was pressed before its issue is issued by nobody, and lib/permit says why', async () => {
  const beginning = { at: new Date('2027-02-02T15:00:00Z'), zone: 'America/New_York' }
  const stage = await openStage(testDatabase(), beginning)
  const [agree, acknowledge, issue] = ISSUED
  for (const act of [agree, acknowledge, { name: 'pressByCode' } as const]) {
    stage.forget()
    if (act) await perform(stage, act)
  }
  stage.forget()
  if (!issue) throw new Error('no act')
  await expect(perform(stage, issue)).rejects.toMatchObject({
    code: 'PERMIT_REFUSED',
    reasons: [expect.objectContaining({ code: 'stopped_before_issue' })],
  })
})

test('where posts carry codes, rounds by right codes end a watch and rounds by lost labels never do', async () => {
  const beginning = { at: new Date('2027-02-03T15:00:00Z'), zone: 'America/New_York' }
  const isDoneAfter = async (scan: 'right' | 'lost') => {
    const stage = await openStage(testDatabase(), { ...beginning, isCoded: true })
    const acts: readonly Act[] = [...ISSUED, { name: 'endWork', by: 'operator' }]
    for (const act of acts) {
      stage.forget()
      await perform(stage, act)
    }
    for (const minutes of [9, 10, 10, 10, 10, 10]) {
      await stage.pass(minutes)
      await perform(stage, { name: 'round', by: 'fireWatch', answer: 'clear', scan })
    }
    await stage.pass(3)
    expect(await broken(stage)).toEqual([])
    const { watch, facts } = await stage.context()
    if (scan === 'lost')
      await expect(
        perform(stage, { name: 'round', by: 'fireWatch', answer: 'clear', scan: 'other' }),
      ).rejects.toMatchObject({
        reasons: [{ code: 'post_code_wrong' }, { code: 'post_code_wrong' }],
      })
    await stage.retire()
    expect(facts.codedPosts).toHaveLength(2)
    return watch?.done
  }
  expect(await isDoneAfter('right')).toBe(true)
  expect(await isDoneAfter('lost')).toBe(false)
})

// Found by a random life: the triggers let work go on by a look from before the smoke.
test.each<[Act, Act]>([
  [
    { name: 'endWork', by: 'operator' },
    { name: 'reopen', by: 'pai' },
  ],
  [
    { name: 'hold', by: 'operator' },
    { name: 'resume', by: 'pai' },
  ],
])('after %j and smoke, %j waits for a look from after the smoke', async (stops, goesOn) => {
  const beginning = { at: new Date('2027-02-03T15:00:00Z'), zone: 'America/New_York' }
  const stage = await openStage(testDatabase(), beginning)
  const does = async (...acts: readonly Act[]) => {
    for (const act of acts) {
      stage.forget()
      await perform(stage, act)
    }
    stage.forget()
  }
  await does(...ISSUED, stops, ...LOOKED, SMOKE)
  expect(await tryRaw(stage, goesOn)).toEqual({ codes: ['NEW_LOOK_MISSING'] })
  await expect(does(goesOn)).rejects.toMatchObject({
    reasons: [expect.objectContaining({ code: 'look_missing' })],
  })
  await does(...LOOKED)
  expect(await tryRaw(stage, goesOn)).toEqual({ codes: [] })
  await does(goesOn)
  await stage.retire()
})
