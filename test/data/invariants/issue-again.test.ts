import { beforeEach, describe, expect, test } from 'vitest'
import { type AreaFacts, surveyItems } from '@/lib/permit/survey'
import type { HotWorkProcess } from '@/lib/rules/conditions'
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
import { asRuntime, newWorld, PLAIN_COMPANY, type Refused, refusal, type World } from './world'

const database = testDatabase()
let world: World
beforeEach(async () => {
  world = await newWorld(database)
})

const laxOf = ({ params }: Refused) => params.map(({ duty }) => duty).sort()
const flags = [false, true]
const PLACES = flags.flatMap((indoors) =>
  flags.flatMap((sprinklers) =>
    flags.flatMap((detection) =>
      (['none', 'other_space'] as const).flatMap((shipyardSpace) =>
        (['oxyfuel_cutting', 'hot_tapping'] as const).map((process, i) => ({
          process: process as HotWorkProcess,
          facts: {
            ...{ indoors, sprinklers, detection, shipyardSpace, levelFt: i * 12 },
            ...{ enclosed: false, confinedSpace: false },
            ...{ floor: 'noncombustible', wall: 'noncombustible' },
          } as AreaFacts,
        })),
      ),
    ),
  ),
)

test('the database asks of every area and work what the walk asks', async () => {
  const { rows } = await database.owner.query<{ items: string[] }>(
    'SELECT kerf_survey_items(x.facts, x.process) AS items FROM jsonb_to_recordset($1) AS x(facts jsonb, process text)',
    [JSON.stringify(PLACES)],
  )
  const asked = PLACES.map(({ facts, process }) =>
    surveyItems({ ...facts, process })
      .map((item) => item.id)
      .sort(),
  )
  expect(rows.map((row) => row.items.toSorted())).toEqual(asked)
  expect(PLACES).toHaveLength(32)
})

test('nothing is cleared while a point of the walk is open', async () => {
  const permitId = await asRuntime(database, world.pai, (client) => preparePermit(client, world))
  await step(database, world, permitId, ({ answer }) => answer())
  const clear = () => step(database, world, permitId, ({ event }) => event('cleared'))
  expect((await refusal(clear())).codes).toEqual(['SURVEY_UNANSWERED'])
  await step(database, world, permitId, ({ walk }) => walk())
  await clear()
  expect((await permitState(database, permitId)).state).toBe('cleared')
})

describe('what the app reports at the issue is not laxer than', () => {
  // 29 CFR 1926.1202; the 24 hours are the starting company layer's (NFPA 51B, from memory).
  test.each([
    ['oxygenMinPct', 19.4],
    ['oxygenMaxPct', 23.6],
    ['lelMaxPct', 10.1],
    ['capHours', 25],
  ])('what holds everywhere: %s %d', async (name, value) => {
    const refused = await refusal(openPermit(database, world, { duties: { [name]: value } }))
    expect(refused.codes).toEqual(['DUTY_LAX'])
  })

  test('the area: an enclosed one is tested', async () => {
    await database.owner.query(`UPDATE areas SET facts = '{"enclosed": true}' WHERE id = $1`, [
      world.bay,
    ])
    // No test; and the air of an enclosed space is held closer by the layer that a company starts with.
    expect(laxOf(await refusal(openPermit(database, world)))).toEqual([
      'gasTestNeeded',
      'lelMaxPct',
      'oxygenMaxPct',
    ])
  })

  test('the work: after an open flame somebody watches', async () => {
    const issue = async (process: string) =>
      asRuntime(database, world.pai, async (client) => {
        const choice = { process, areaId: world.deck }
        const permitId = await preparePermit(client, world, choice)
        await clearAndSign(client, world, permitId)
        const duties = { watchMin: 0, finalLookMin: 0 }
        const data = { ...(await issueData(client, { duties })), watchRequired: false }
        await permitSteps(client, world, permitId).event('issued', { data })
        return permitId
      })
    expect((await refusal(issue('oxyfuel_cutting'))).codes).toEqual(['DUTY_LAX'])
    expect((await permitState(database, await issue('arc_welding'))).state).toBe('open')
  })

  test('the company’s own layer, value by value', async () => {
    const own = { coMaxPpm: 20, windMaxMph: 12, breakLimitMin: 15, gasTestBeforeEveryPermit: true }
    await database.owner.query(
      `INSERT INTO company_layers (id, params, citation) VALUES (gen_random_uuid(), $1, 'house')`,
      [JSON.stringify({ ...PLAIN_COMPANY, ...own })],
    )
    const refused = await refusal(
      openPermit(database, world, { duties: { coMaxPpm: 25, breakLimitMin: 15 } }),
    )
    // Carbon monoxide above it, wind not named, no gas test: three.
    expect(refused.codes).toEqual(['DUTY_LAX', 'DUTY_LAX', 'DUTY_LAX'])
  })
})
