import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import { openPermit, type PermitChoice, permitState, step } from './permit-steps'
import { asRuntime, newWorld, PLAIN_COMPANY, refusal, type World } from './world'

const MINUTE_MS = 60_000
const database = testDatabase()
let world: World

beforeEach(async () => {
  world = await newWorld(database)
})
afterEach(() => database.setClock(0))

const at = (minutes: number) => database.setClock(minutes * MINUTE_MS)

/** Work ended at minute 0; from there the tests move the clock. */
async function watchedPermit(choice: PermitChoice = {}) {
  await at(0)
  const permitId = await openPermit(database, world, choice)
  await step(database, world, permitId, ({ event }) => event('work_ended'))
  return permitId
}

async function makeRound(
  permitId: string,
  minute: number,
  answer: 'clear' | 'warm' | 'smoke' = 'clear',
) {
  await at(minute)
  await step(database, world, permitId, ({ round }) => round(world.watch, answer))
}

async function makeRounds(permitId: string, minutes: readonly number[]) {
  for (const minute of minutes) await makeRound(permitId, minute)
}

/** Everything that is owed at the end, save the closing itself. */
const finish = (permitId: string) =>
  step(database, world, permitId, async ({ event, sign }) => {
    await event('final_look', { personId: world.watch })
    await sign('final_watch', 'fire_watch', world.watch)
    await sign('final_pai', 'pai', world.pai)
  })
const close = (permitId: string) => step(database, world, permitId, ({ event }) => event('closed'))

const ALL_ROUNDS = [10, 20, 30, 40, 50, 60]

describe('the duties after work end no earlier than the frozen minutes of maintained presence', () => {
  test('a watch kept for its minutes, looked at and signed, closes', async () => {
    const permitId = await watchedPermit()
    await makeRounds(permitId, ALL_ROUNDS)
    await at(61)
    await finish(permitId)
    await close(permitId)
    expect((await permitState(database, permitId)).state).toBe('closed')
  })

  test('a minute before time it does not close, and every reason is told at once', async () => {
    const permitId = await watchedPermit()
    await makeRounds(permitId, [10, 20, 30, 40, 50])
    await at(59)
    expect((await refusal(close(permitId))).codes).toEqual([
      'WATCH_NOT_DONE',
      'FINAL_LOOK_OWED',
      'SIGNATURE_MISSING',
      'SIGNATURE_MISSING',
    ])
  })

  test('time that nobody stood on watch does not count', async () => {
    const permitId = await watchedPermit()
    await makeRounds(permitId, [10, 20])
    const leave = (reason: string) =>
      step(database, world, permitId, ({ event }) =>
        event('watch_off', { personId: world.watch, data: { reason } }),
      )
    // Left to nobody, it is said why.
    expect((await refusal(leave(' '))).codes).toEqual(['LEAVING_UNSAID'])
    await leave('Taken ill')
    await at(28)
    await step(database, world, permitId, ({ event }) =>
      event('watch_on', { personId: world.watch }),
    )
    await makeRounds(permitId, [30, 40, 50, 60])
    await at(61)
    expect((await refusal(finish(permitId))).codes).toEqual(['WATCH_NOT_DONE'])
    expect((await refusal(close(permitId))).codes).toContain('WATCH_NOT_DONE')
    await at(69)
    await finish(permitId)
    await close(permitId)
  })

  test('a round late by less than an interval adds its minutes, a longer gap restarts the watch', async () => {
    const late = await watchedPermit()
    await makeRounds(late, [14, 20, 30, 40, 50, 60])
    await at(63)
    expect((await refusal(finish(late))).codes).toEqual(['WATCH_NOT_DONE'])
    expect((await refusal(close(late))).codes).toContain('WATCH_NOT_DONE')
    await at(65)
    await finish(late)
    await close(late)

    const gap = await watchedPermit({ areaId: world.bayTwin, operatorId: world.otherOperator })
    await makeRounds(gap, [10, 45, 55, 65])
    await at(70)
    const { rows } = await database.owner.query(
      'SELECT credit_ms::int AS credit, restarts FROM kerf_watch_progress($1)',
      [gap],
    )
    expect(rows[0].restarts).toBe(1)
    expect(rows[0].credit).toBeLessThanOrEqual(26 * MINUTE_MS)
    expect(rows[0].credit).toBeGreaterThan(24 * MINUTE_MS)
  })

  test('smoke restarts the watch, and a warm post keeps the permit from closing', async () => {
    const permitId = await watchedPermit()
    await makeRounds(permitId, [10, 20, 30, 40])
    await makeRound(permitId, 50, 'smoke')
    await at(61)
    expect((await refusal(finish(permitId))).codes).toEqual(['FINAL_LOOK_EARLY'])
    const refused = await refusal(close(permitId))
    expect(refused.codes).toContain('WATCH_NOT_DONE')
    expect(refused.codes).toContain('POST_NOT_COLD')
  })

  test('monitoring, a statement and what was disabled are owed as they were frozen', async () => {
    const permitId = await watchedPermit({
      duties: { monitoringMin: 30, statementRequired: true },
      impairments: [{ id: 'zone-2', label: 'Sprinkler zone 2' }],
    })
    await makeRounds(permitId, ALL_ROUNDS)
    await at(62)
    expect((await refusal(finish(permitId))).codes).toEqual(['MONITORING_OWED'])
    expect((await refusal(close(permitId))).codes).toEqual([
      'MONITORING_OWED',
      'FINAL_LOOK_OWED',
      'STATEMENT_OWED',
      'IMPAIRMENT_OPEN',
      'SIGNATURE_MISSING',
      'SIGNATURE_MISSING',
    ])
    const restore = () =>
      step(database, world, permitId, ({ event }) =>
        event('impairment_restored', { data: { impairmentId: 'zone-2' } }),
      )
    await at(80)
    const early = step(database, world, permitId, ({ event }) => event('monitored'))
    expect((await refusal(early)).codes).toEqual(['MONITORING_OWED'])
    await at(91)
    await step(database, world, permitId, async ({ event }) => {
      await event('monitored')
      await event('statement')
    })
    await finish(permitId)
    await restore()
    expect((await refusal(restore())).codes).toEqual(['IMPAIRMENT_RESTORED'])
    // Signed off before it was restored: for what is there now it is signed again.
    expect((await refusal(close(permitId))).codes).toEqual(['SIGNATURE_VOIDED'])
    await step(database, world, permitId, ({ sign }) =>
      sign('final_watch', 'fire_watch', world.watch),
    )
    expect((await refusal(close(permitId))).codes).toEqual(['SIGNATURE_VOIDED'])
    await step(database, world, permitId, ({ sign }) => sign('final_pai', 'pai', world.pai))
    await close(permitId)
  })

  test('where looks are spaced, a gap longer than the text allows starts the monitoring over', async () => {
    // Joint Code of Practice, 10th edition, as reported: looks at most 20 min apart for 60 min.
    const permitId = await watchedPermit({
      duties: { monitoringMin: 60, monitoringCheckEveryMin: 20 },
    })
    await makeRounds(permitId, ALL_ROUNDS)
    const look = async (minute: number) => {
      await at(minute)
      await step(database, world, permitId, ({ event }) => event('monitored'))
    }
    await look(80)
    await look(99)
    await look(121) // 22 min after the last
    expect((await refusal(finish(permitId))).codes).toEqual(['MONITORING_OWED'])
    for (const minute of [140, 159, 178, 180.5]) await look(minute)
    expect((await refusal(finish(permitId))).codes).toEqual(['MONITORING_OWED'])
    await look(181.5)
    await finish(permitId)
    await close(permitId)
  })

  test('a statement that nobody asked for is not one', async () => {
    const permitId = await watchedPermit()
    await makeRounds(permitId, ALL_ROUNDS)
    await at(61)
    const stated = step(database, world, permitId, ({ event }) => event('statement'))
    expect((await refusal(stated)).codes).toEqual(['STATEMENT_NOT_ASKED'])
  })

  test('a look from before a break that was too long does not light the torch again', async () => {
    const permitId = await openPermit(database, world, { duties: { breakLimitMin: 30 } })
    await step(database, world, permitId, ({ event }) => event('held'))
    await step(database, world, permitId, ({ answer }) => answer())
    await at(31)
    const resume = () =>
      step(database, world, permitId, async ({ event, sign }) => {
        await sign('resume', 'pai', world.pai)
        await event('resumed')
      })
    expect((await refusal(resume())).codes).toEqual(['LOOK_TOO_OLD'])
    await step(database, world, permitId, ({ answer }) => answer())
    await resume()
    expect((await permitState(database, permitId)).state).toBe('open')
  })

  test('a press of stop that nobody took back keeps the torch out', async () => {
    const permitId = await openPermit(database, world)
    await step(database, world, permitId, ({ event }) => event('held', { data: { stop: true } }))
    await step(database, world, permitId, ({ answer }) => answer())
    const resume = () =>
      step(database, world, permitId, async ({ event, sign }) => {
        await sign('resume', 'pai', world.pai)
        await event('resumed')
      })
    expect((await refusal(resume())).codes).toEqual(['STOP_PRESSED'])
    await step(database, world, permitId, ({ event }) => event('stop_withdrawn'))
    await resume()
    expect((await permitState(database, permitId)).state).toBe('open')
  })

  test('a PAI who is not known to be on site does not issue', async () => {
    const issued = openPermit(database, world, { duties: { paiOnSiteWithinMin: 30 } })
    expect((await refusal(issued)).codes).toEqual(['PAI_NOT_ON_SITE'])
  })

  test('a round that left out a post, or was made by somebody not on watch, is refused', async () => {
    const permitId = await watchedPermit()
    const make = (personId: string, posts: unknown) =>
      asRuntime(database, personId, (client) =>
        client.query(
          `INSERT INTO rounds (id, site_id, permit_id, person_id, role_then, posts, worst) VALUES (gen_random_uuid(), $1, $2, $3, 'test', $4, 'clear')`,
          [world.siteId, permitId, personId, JSON.stringify(posts)],
        ),
      )
    expect(
      (await refusal(make(world.watch, [{ postId: 'far', name: 'Far', answer: 'clear' }]))).codes,
    ).toEqual(['POST_MISSED'])
    expect(
      (await refusal(make(world.watch, [{ postId: 'near', name: 'Near', answer: 'fine' }]))).codes,
    ).toEqual(['ROUND_ANSWERS'])
    expect(
      (await refusal(make(world.otherWatch, [{ postId: 'near', name: 'Near', answer: 'clear' }])))
        .codes,
    ).toEqual(['NOT_ON_WATCH'])
    await make(world.watch, [{ postId: 'near', name: 'Near', answer: 'clear' }])
  })

  test('a post that carries a code is scanned or said why not, and what the caller says of it is not taken', async () => {
    const permitId = await watchedPermit({
      codes: [{ id: 'near', name: 'Near', code: 'PK7W-2M4Q' }],
    })
    const make = (more: object) =>
      asRuntime(database, world.watch, (client) =>
        client.query<{ posts: unknown }>(
          `INSERT INTO rounds (id, site_id, permit_id, person_id, role_then, posts, worst) VALUES (gen_random_uuid(), $1, $2, $3, 'test', $4, 'clear') RETURNING posts`,
          [
            world.siteId,
            permitId,
            world.watch,
            JSON.stringify([{ postId: 'near', name: 'Near', answer: 'clear', ...more }]),
          ],
        ),
      )
    await at(10)
    expect((await refusal(make({ scanned: true }))).codes).toEqual(['POST_NOT_SCANNED'])
    expect((await refusal(make({ code: 'PK7W-2M4R', unscanned: 'Torn' }))).codes).toEqual([
      'POST_CODE_WRONG',
    ])
    const near = { postId: 'near', name: 'Near', answer: 'clear' }
    expect((await make({ scanned: true, unscanned: 'Torn' })).rows[0]?.posts).toEqual([
      { ...near, scanned: false, unscanned: 'Torn' },
    ])
    expect((await make({ answer: 'warm', scanned: true })).rows[0]?.posts).toEqual([
      { ...near, answer: 'warm', scanned: false },
    ])
    expect((await make({ code: 'pk7w2m4q' })).rows[0]?.posts).toEqual([{ ...near, scanned: true }])
  })

  test('a code of the area is frozen with the permit, and does not change while it runs', async () => {
    const own = await newWorld(database)
    const set = (code: string) =>
      database.owner.query('UPDATE areas SET posts = $1 WHERE id = $2', [
        JSON.stringify([{ id: 'near', name: 'Near', code }]),
        own.bay,
      ])
    await set('PK7W-2M4Q')
    expect((await refusal(openPermit(database, own))).codes).toEqual(['POST_CODE_LEFT_OUT'])
    const codes = [{ id: 'near', name: 'Near', code: 'PK7W-2M4Q' }]
    expect(
      (await refusal(openPermit(database, own, { codes, duties: { posts: [] } }))).codes,
    ).toEqual(['POST_CODE_LEFT_OUT'])
    await openPermit(database, own, { codes })
    expect((await refusal(set('PX3H-9T8B'))).codes).toEqual(['POST_CODE_IN_USE'])
    await set('pk7w2m4q')
  })

  test('a signature made before the watch was over does not end it', async () => {
    const permitId = await watchedPermit()
    await makeRounds(permitId, [10])
    await step(database, world, permitId, ({ sign }) => sign('final_pai', 'pai', world.pai))
    await makeRounds(permitId, [20, 30, 40, 50, 60])
    await at(61)
    await step(database, world, permitId, async ({ event, sign }) => {
      await event('final_look')
      await sign('final_watch', 'fire_watch', world.watch)
    })
    expect((await refusal(close(permitId))).codes).toEqual(['SIGNATURE_MISSING'])
  })

  test('fewer minutes than the company’s own are not issued', async () => {
    await database.owner.query(
      `INSERT INTO company_layers (id, params, citation) VALUES (gen_random_uuid(), $1, 'house')`,
      [JSON.stringify({ ...PLAIN_COMPANY, postWatchMin: 45 })],
    )
    const refused = await refusal(openPermit(database, world, { duties: { watchMin: 44 } }))
    expect(refused.codes).toEqual(['BELOW_COMPANY'])
    await openPermit(database, world, { duties: { watchMin: 45 } })
  })
})

describe('no later update lowers what was frozen', () => {
  const LOOSER = [
    'watch_minutes = watch_minutes - 1',
    'watch_minutes = NULL',
    'round_interval_min = round_interval_min + 1',
    'final_look_minutes = 0',
    'watch_required = false',
    `frozen = '{}'`,
    `valid_until = valid_until + interval '1 hour'`,
    `torch_out_at = torch_out_at - interval '1 hour'`,
    `state = 'closed', torch_out_at = torch_out_at - interval '1 hour', closed_at = kerf_now()`,
  ]
  test.each(LOOSER)('neither role may set %s', async (change) => {
    const permitId = await watchedPermit()
    const sql = `UPDATE permits SET ${change} WHERE id = '${permitId}'`
    expect(
      (await refusal(asRuntime(database, world.pai, (client) => client.query(sql)))).sqlState,
    ).toBe('42501')
    expect((await refusal(database.owner.query(sql))).sqlState).toBe('KW004')
  })

  test('more minutes may be asked for by the owner', async () => {
    const permitId = await watchedPermit()
    await database.owner.query(
      'UPDATE permits SET watch_minutes = watch_minutes + 30 WHERE id = $1',
      [permitId],
    )
    expect((await permitState(database, permitId)).watch_minutes).toBe(90)
  })

  test('a closed permit is never opened again, a stopped one neither', async () => {
    const stopped = await watchedPermit()
    await step(database, world, stopped, async ({ event }) => {
      await event('held', { data: { stop: true } })
      await event('stopped')
      await event('watch_off', {
        personId: world.watch,
        subjectId: world.watch,
        data: { reason: 'Relieved' },
      })
      await event('watch_on', { personId: world.watch, subjectId: world.watch })
    })
    const relight = step(database, world, stopped, async ({ answer, sign, event }) => {
      await answer()
      await sign('go_back', 'pai', world.pai)
      await event('reopened')
    })
    expect((await refusal(relight)).codes).toEqual(['PERMIT_STOPPED'])
    expect(
      (
        await refusal(
          database.owner.query(`UPDATE permits SET stopped_at = NULL WHERE id = $1`, [stopped]),
        )
      ).sqlState,
    ).toBe('KW004')
  })

  test('a permit expires into the watch from its end on, not before', async () => {
    await at(0)
    const permitId = await openPermit(database, world, { validForMs: 30 * MINUTE_MS })
    const expire = () =>
      asRuntime(database, world.pai, (client) =>
        client.query(
          `INSERT INTO permit_events (id, site_id, permit_id, kind, role_then) VALUES (gen_random_uuid(), $1, $2, 'expired', 'system')`,
          [world.siteId, permitId],
        ),
      )
    expect((await refusal(expire())).codes).toEqual(['NOT_EXPIRED'])
    await at(40)
    await expire()
    const { rows } = await database.owner.query(
      'SELECT state, torch_out_at = valid_until AS out_at_end FROM permits WHERE id = $1',
      [permitId],
    )
    expect(rows[0]).toEqual({ state: 'watch', out_at_end: true })
  })
})
