import { beforeEach, expect, test } from 'vitest'
import { SURVEY_ITEMS } from '@/lib/permit/survey'
import { isBlocking } from '@/lib/rules/evaluate'
import { DECISION_ORDER } from '@/lib/rules/types'
import { testDatabase } from '../../setup/database'
import {
  clearAndSign,
  issueData,
  openPermit,
  permitState,
  permitSteps,
  preparePermit,
  step,
} from './permit-steps'
import { asRuntime, newWorld, refusal, type World } from './world'

const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})

const resume = (permitId: string, data?: object) =>
  step(database, world, permitId, async ({ event, sign }) => {
    await sign('resume', 'pai', world.pai)
    await event('resumed', data ? { data } : {})
  })

async function heldAndLooked(item: string, choice: string): Promise<string> {
  const permitId = await openPermit(database, world)
  await step(database, world, permitId, ({ event }) => event('held'))
  await step(database, world, permitId, ({ answer }) => answer(world.pai, item, choice))
  return permitId
}

test('the database knows each answer that stops the work, and no other', async () => {
  const choices = SURVEY_ITEMS.flatMap((item) =>
    item.choices.map(({ id, mark }) => ({
      item: item.id,
      choice: id,
      forbids: mark === 'blocked',
    })),
  )
  const { rows } = await database.owner.query(
    `SELECT item, choice, kerf_answer_forbids(item, choice) AS forbids
     FROM jsonb_to_recordset($1::jsonb) AS x(item text, choice text) `,
    [JSON.stringify(choices)],
  )
  expect(rows).toEqual(choices)
})

test('a new look that found what forbids the work lights no torch, until it is found put right', async () => {
  const permitId = await heldAndLooked('ducts', 'running')
  expect((await refusal(resume(permitId))).codes).toEqual(['SURVEY_BLOCKED'])
  await step(database, world, permitId, ({ answer }) => answer(world.pai, 'ducts', 'shut_down'))
  await resume(permitId)
  expect((await permitState(database, permitId)).state).toBe('open')
})

test('a look again that found nothing else does not undo what an earlier look found', async () => {
  const permitId = await heldAndLooked('stores', 'dust')
  await step(database, world, permitId, ({ answer }) => answer(world.pai, 'new_look', 'as_cleared'))
  expect((await refusal(resume(permitId))).codes).toEqual(['SURVEY_BLOCKED'])
})

test('the same holds when going back from the watch', async () => {
  const permitId = await openPermit(database, world)
  await step(database, world, permitId, ({ event }) => event('work_ended'))
  await step(database, world, permitId, ({ answer }) => answer(world.pai, 'cylinders', 'inside'))
  const back = step(database, world, permitId, async ({ event, sign }) => {
    await sign('go_back', 'pai', world.pai)
    await event('reopened')
  })
  expect((await refusal(back)).codes).toEqual(['SURVEY_BLOCKED'])
})

test('nothing is cleared and nothing issued on an answer that forbids it', async () => {
  const cleared = asRuntime(database, world.pai, async (client) => {
    const steps = permitSteps(client, world, await preparePermit(client, world))
    await steps.answer(world.pai, 'extinguisher', 'short')
    await steps.event('cleared')
  })
  expect((await refusal(cleared)).codes).toEqual(['SURVEY_BLOCKED'])
})

test.each(DECISION_ORDER.filter(isBlocking))(
  'what the rules call %s is not gone on with',
  async (decision) => {
    const permitId = await heldAndLooked('floor', 'swept')
    expect((await refusal(resume(permitId, { decision }))).codes).toEqual(['RULES_FORBID'])
    const issued = asRuntime(database, world.pai, async (client) => {
      const own = {
        areaId: world.deck,
        operatorId: world.otherOperator,
        fireWatchId: world.otherWatch,
      }
      const next = await preparePermit(client, world, own)
      await clearAndSign(client, world, next, own)
      const data = { ...(await issueData(client)), evaluation: { decision } }
      await permitSteps(client, world, next).event('issued', { data })
    })
    expect((await refusal(issued)).codes).toEqual(['RULES_FORBID'])
  },
)

test('nobody goes on without having asked the rules', async () => {
  const permitId = await heldAndLooked('floor', 'swept')
  expect((await refusal(resume(permitId, {}))).codes).toEqual(['RULES_NOT_ASKED'])
})
