import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { freezeDuties } from '@/lib/permit/duties'
import type { FrozenDuties } from '@/lib/permit/types'
import { type Conditions, DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { evaluate, isBlocking } from '@/lib/rules/evaluate'
import { ALWAYS_LAYER, COMPANY_LAYER, RULESETS } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import type { Layer } from '@/lib/rules/types'
import { testDatabase } from '../../setup/database'
import { layers, workable } from '../../unit/rules/arbitrary'
import { openPermit } from './permit-steps'
import { newWorld, refusal } from './world'

const database = testDatabase()

/** What a text is silent on stands nowhere. */
const spoken = ({ parameters }: Layer) =>
  Object.fromEntries(
    Object.entries(parameters).filter(([, value]) => value !== null && value !== false),
  )

describe('the figures of the published texts', () => {
  test('stand in the database as lib/rules has them, each edition with its days, and nothing else does', async () => {
    const { rows } = await database.owner.query(
      `SELECT layer_id AS id, version, effective_from::text AS "effectiveFrom", effective_to::text AS "effectiveTo", params
       FROM published_layers ORDER BY layer_id, version`,
    )
    const known = [ALWAYS_LAYER, COMPANY_LAYER, ...Object.values(RULESETS)]
      .map(({ id, version, effectiveFrom, effectiveTo, ...layer }) => ({
        ...{ id, version, effectiveFrom, effectiveTo },
        params: spoken({ id, version, effectiveFrom, effectiveTo, ...layer }),
      }))
      .toSorted((a, b) => a.id.localeCompare(b.id))
    expect(rows.toSorted((a, b) => a.id.localeCompare(b.id))).toEqual(known)
  })

  test('are written by nobody but a migration', async () => {
    for (const sql of [
      `UPDATE published_layers SET params = '{}'`,
      'DELETE FROM published_layers',
      `INSERT INTO published_layers (layer_id, version, effective_from, params) VALUES ('x', 1, '2020-01-01', '{}')`,
    ])
      await expect(database.runtime.query(sql)).rejects.toMatchObject({ code: '42501' })
  })
})

const someLayers = layers.map((some) => some.filter((one) => one.id !== 'company'))
const answer = fc.constantFrom('yes' as const, 'no' as const, null)

/** What lib/permit freezes, and what the database finds laxer than the same layers in it. */
function judged(some: readonly Layer[], c: Conditions, watchJudgement: 'yes' | 'no' | null) {
  const all = [...some, COMPANY_LAYER]
  const evaluation = evaluate(all, c)
  const parameters = resolveParameters(some, COMPANY_LAYER)
  const isEnclosed = c.enclosed || c.confinedSpace
  const frozen = freezeDuties({
    ...{ evaluation, parameters, isEnclosed, watchJudgement },
    ...{ monitoringMin: 0, posts: ['Near'] },
  })
  const laxer = async (duties: Partial<FrozenDuties>) => {
    const { rows } = await database.owner.query<{ lax: string[] }>(
      'SELECT kerf_laxer_than(ARRAY(SELECT jsonb_array_elements($1)), $2, $3, $4, $5) AS lax',
      [
        JSON.stringify([...all, ALWAYS_LAYER].map(spoken)),
        JSON.stringify(duties),
        frozen.watchRequired,
        isEnclosed,
        c.areaClass === 'designated',
      ],
    )
    return rows[0]?.lax
  }
  return { evaluation, parameters, frozen, laxer }
}

const MORE = [
  ...(['roundIntervalMin', 'gasTestValidMin', 'breakLimitMin', 'capHours'] as const),
  ...(['paiOnSiteWithinMin', 'reinspectEveryHours', 'gasOffAfterIdleMin'] as const),
  ...(['oxygenMaxPct', 'oxygenStopAtPct', 'lelMaxPct', 'lelStopAtPct'] as const),
  ...(['coMaxPpm', 'h2sMaxPpm', 'windMaxMph', 'monitoringCheckEveryMin'] as const),
]
const FLAGS = [
  ...(['gasTestNeeded', 'gasTestContinuous'] as const),
  ...(['reinspectEachShift', 'gearCheckEachShift'] as const),
]

describe('lib/permit and the database judge frozen duties alike', () => {
  test('what lib/permit freezes is never laxer, whatever the layers and the place', async () => {
    await fc.assert(
      fc.asyncProperty(someLayers, workable, answer, async (some, c, said) => {
        const { evaluation, frozen, laxer } = judged(some, c, said)
        fc.pre(!isBlocking(evaluation.decision))
        expect(await laxer(frozen)).toEqual([])
      }),
      { numRuns: 300 },
    )
  })

  test('a figure that a layer sets is missed when it is looser or gone', async () => {
    await fc.assert(
      fc.asyncProperty(someLayers, workable, async (some, c) => {
        const { evaluation, parameters, frozen, laxer } = judged(some, c, 'yes')
        fc.pre(!isBlocking(evaluation.decision) && frozen.watchRequired)
        const looser = [
          ...MORE.filter((name) => frozen[name] !== null).map((name) => [
            name,
            Number(frozen[name]) + 0.5,
          ]),
          ...FLAGS.filter(
            (name) =>
              frozen[name] &&
              (name !== 'gasTestNeeded' || parameters.gasTestBeforeEveryPermit.value),
          ).map((name) => [name, false]),
          ['watchMin', parameters.watchMin.value - 0.5],
          ['oxygenMinPct', frozen.oxygenMinPct - 0.5],
          ['finalLookMin', parameters.watchMin.value + parameters.monitoringMin.value - 0.5],
          ...(parameters.monitoringMin.value > 0
            ? [['monitoringMin', parameters.monitoringMin.value - 0.5]]
            : []),
        ] as [keyof FrozenDuties, unknown][]
        for (const [name, value] of looser) {
          expect(await laxer({ ...frozen, [name]: value }), name).toContain(name)
          expect(await laxer({ ...frozen, [name]: undefined }), name).toContain(name)
        }
      }),
      { numRuns: 40 },
    )
  })

  test('a watch that no survey may end is not ended by one', async () => {
    const { frozen, laxer } = judged([RULESETS['us-osha-1910']], DEFAULT_CONDITIONS, 'yes')
    expect(frozen.watchMinAfterSurvey).toBeNull()
    expect(await laxer({ ...frozen, watchMinAfterSurvey: 0 })).toEqual(['watchMinAfterSurvey'])
  })
})

test('a permit is not issued on duties below the site’s own texts', async () => {
  const world = await newWorld(database)
  await openPermit(database, world) // 60 minutes, as its company asks
  await database.owner.query(
    `INSERT INTO site_rulesets (id, site_id, ruleset_id) VALUES (gen_random_uuid(), $1, 'ca-nfc')`,
    [world.siteId],
  )
  const refused = await refusal(openPermit(database, world, { operatorId: world.otherOperator }))
  // A last look at 240 minutes: National Fire Code of Canada 5.2.3.3, from memory.
  expect(refused).toMatchObject({ codes: ['DUTY_LAX'], params: [{ duty: 'finalLookMin' }] })
})
