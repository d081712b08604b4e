import { beforeEach, describe, expect, test } from 'vitest'
import { testDatabase } from '../../setup/database'
import {
  clearAndSign,
  clockNow,
  insertLog,
  issueData,
  openPermit,
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

describe('nobody is in two places', () => {
  test('one person cannot be operator and fire watch of a permit', async () => {
    const refused = await refusal(openPermit(database, world, { fireWatchId: world.operator }))
    expect(refused.codes).toEqual(['OPERATOR_IS_WATCH'])
  })

  test('the operator of one permit cannot watch another, nor cut in another area', async () => {
    await openPermit(database, world)
    const watching = await refusal(
      openPermit(database, world, {
        areaId: world.deck,
        operatorId: world.otherOperator,
        fireWatchId: world.operator,
      }),
    )
    expect(watching.codes).toEqual(['PERSON_ELSEWHERE'])
    const cutting = await refusal(
      openPermit(database, world, { areaId: world.deck, fireWatchId: world.otherWatch }),
    )
    expect(cutting.codes).toEqual(['PERSON_ELSEWHERE'])
  })

  test('one watches two areas only where one view covers both', async () => {
    await openPermit(database, world)
    await openPermit(database, world, { areaId: world.bayTwin, operatorId: world.otherOperator })
    const refused = await refusal(
      openPermit(database, world, { areaId: world.deck, operatorId: world.thirdOperator }),
    )
    expect(refused.codes).toEqual(['PERSON_ELSEWHERE', 'PERSON_ELSEWHERE'])
  })

  test('of two permits opened at the same moment for one operator one is refused', async () => {
    const outcomes = await Promise.allSettled([
      openPermit(database, world),
      openPermit(database, world, { areaId: world.deck, fireWatchId: world.otherWatch }),
    ])
    const refused = outcomes.filter((outcome) => outcome.status === 'rejected')
    expect(refused).toHaveLength(1)
    const { code, constraint } = (refused[0]?.reason ?? {}) as {
      code?: string
      constraint?: string
    }
    expect(code === 'KW001' || constraint === 'stints_one_place').toBe(true)
  })

  test('the owner’s own hand cannot put a person in two places', async () => {
    const permitId = await openPermit(database, world)
    const sql = `INSERT INTO stints (id, site_id, permit_id, person_id, role, slot, from_at)
                 VALUES (gen_random_uuid(), $1, $2, $3, 'fire_watch', 'watch:elsewhere', kerf_now())`
    expect(
      (await refusal(database.owner.query(sql, [world.siteId, permitId, world.operator]))).sqlState,
    ).toBe('23P01')
    const asApp = asRuntime(database, world.pai, (client) =>
      client.query(sql, [world.siteId, permitId, world.novice]),
    )
    expect((await refusal(asApp)).sqlState).toBe('42501')
  })

  test('a log in a designated area is refused while its operator stood elsewhere', async () => {
    await database.setClock(-3_600_000)
    await openPermit(database, world)
    await database.setClock(0)
    const now = (await clockNow(database)).getTime()
    const fields = {
      permitId: null,
      areaId: world.bench,
      from: new Date(now - 600_000),
      to: new Date(now - 60_000),
    }
    const refused = await refusal(
      asRuntime(database, world.operator, (client) => insertLog(client, world, fields)),
    )
    expect(refused.codes).toEqual(['PERSON_ELSEWHERE'])
    await asRuntime(database, world.operator, (client) =>
      insertLog(client, world, { ...fields, operatorId: world.otherOperator }),
    )
    const sameTime = asRuntime(database, world.operator, (client) =>
      insertLog(client, world, { ...fields, areaId: world.bay, operatorId: world.otherOperator }),
    )
    expect((await refusal(sameTime)).codes).toContain('PERMIT_NEEDED')
  })

  test('a second watch takes over, and the first then works elsewhere', async () => {
    const permitId = await openPermit(database, world)
    const leave = step(database, world, permitId, ({ event }) =>
      event('watch_off', { personId: world.watch }),
    )
    expect((await refusal(leave)).codes).toEqual(['HOLD_FIRST'])
    await step(database, world, permitId, async ({ sign, event }) => {
      await sign('acknowledge', 'fire_watch', world.otherWatch)
      await event('watch_on', { personId: world.otherWatch })
      await event('watch_off', { personId: world.watch })
    })
    await openPermit(database, world, {
      areaId: world.deck,
      operatorId: world.otherOperator,
      fireWatchId: world.watch,
    })
  })
})

describe('nobody issues a permit for their own work', () => {
  test('an operator who is a PAI cannot sign it, nor be the one who issues it', async () => {
    const attempt = asRuntime(database, world.pai, async (client) => {
      const permitId = await preparePermit(client, world)
      await clearAndSign(client, world, permitId)
      await permitSteps(client, world, permitId).event('issued', {
        personId: world.operator,
        data: await issueData(client),
      })
    })
    expect((await refusal(attempt)).codes).toEqual(['SIGNATURE_MISSING', 'OWN_WORK'])
    const signing = asRuntime(database, world.pai, async (client) => {
      const permitId = await preparePermit(client, world)
      const steps = permitSteps(client, world, permitId)
      await steps.walk()
      await steps.event('cleared')
      await steps.sign('issue', 'pai', world.operator)
    })
    expect((await refusal(signing)).codes).toEqual(['OWN_WORK'])
  })

  test('the PAI who issued it cannot take the torch', async () => {
    const permitId = await openPermit(database, world)
    const attempt = step(database, world, permitId, async ({ sign, event }) => {
      await sign('agree', 'operator', world.pai)
      await event('operator_on', { personId: world.pai })
    })
    expect((await refusal(attempt)).codes).toEqual(['OWN_WORK'])
  })

  test('the PAI signs last, and every signature is there', async () => {
    const early = asRuntime(database, world.pai, async (client) => {
      const permitId = await preparePermit(client, world)
      const steps = permitSteps(client, world, permitId)
      await steps.walk()
      await steps.event('cleared')
      await steps.sign('issue', 'pai', world.pai)
      await client.query('SELECT pg_sleep(0.01)')
      await steps.sign('agree', 'operator', world.operator)
      await steps.event('issued', { data: await issueData(client) })
    })
    expect((await refusal(early)).codes).toEqual(['SIGNATURE_MISSING', 'PAI_NOT_LAST'])
  })

  test('people without a qualification or an account do not work', async () => {
    const refused = await refusal(openPermit(database, world, { operatorId: world.novice }))
    expect(refused.codes).toEqual(['NOT_QUALIFIED'])
    await database.owner.query('UPDATE people SET disabled_at = kerf_now() WHERE id = $1', [
      world.watch,
    ])
    expect((await refusal(openPermit(database, world))).codes).toEqual(['PERSON_DISABLED'])
  })
})

describe('one outfit burns under one open permit', () => {
  const elsewhere = () => ({
    areaId: world.deck,
    operatorId: world.otherOperator,
    fireWatchId: world.otherWatch,
    outfitId: world.outfitId,
  })

  test('a second permit with it is not issued, and a held one does not go on with it', async () => {
    const held = await openPermit(database, world, { outfitId: world.outfitId })
    expect((await refusal(openPermit(database, world, elsewhere()))).codes).toEqual([
      'OUTFIT_IN_USE',
    ])
    await step(database, world, held, ({ event }) => event('held', { data: { reason: 'lunch' } }))
    await openPermit(database, world, elsewhere())
    const goOn = step(database, world, held, async ({ answer, sign, event }) => {
      await answer()
      await sign('resume', 'pai', world.pai)
      await event('resumed')
    })
    expect((await refusal(goOn)).codes).toEqual(['OUTFIT_IN_USE'])
  })

  test('of two permits issued with it at the same moment one is refused', async () => {
    const outcomes = await Promise.allSettled([
      openPermit(database, world, { outfitId: world.outfitId }),
      openPermit(database, world, elsewhere()),
    ])
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1)
  })
})
