import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { answerClearance, clearPermit } from '@/lib/data/permits/clearance'
import { recordGasTest } from '@/lib/data/permits/gas-tests'
import { getPermit } from '@/lib/data/permits/get'
import { handOver } from '@/lib/data/permits/hand-over'
import { endWork, holdPermit, resumePermit, withdrawPermit } from '@/lib/data/permits/hold'
import { issuePermit } from '@/lib/data/permits/issue'
import { listPermits } from '@/lib/data/permits/list'
import { logWork } from '@/lib/data/permits/log'
import { preparePermit } from '@/lib/data/permits/prepare'
import { signPermit } from '@/lib/data/permits/sign'
import {
  clearanceAnswerSchema,
  endWorkSchema,
  gasTestSchema,
  handOverSchema,
  holdPermitSchema,
  logWorkSchema,
  permitStepSchema,
  resumePermitSchema,
  signPermitSchema,
  withdrawPermitSchema,
} from '@/lib/schemas/permit'
import { buildPerson, buildTeam } from '../../seed/builders/people'
import {
  buildHeldPermit,
  buildOpenPermit,
  buildPreparedPermit,
  buildWorksite,
  type Worksite,
} from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import {
  cleared,
  formOn,
  issuing,
  PIN,
  permitRow,
  preparation,
  prepared,
  refusedFor,
  signBoth,
  siteTime,
  testAir,
  viewerOf,
  viewersOf,
  walk,
} from './permit-world'

let worksite: Worksite
let stranger: Viewer
const db = () => testDatabase().owner

beforeAll(async () => {
  worksite = await buildWorksite(db())
  const elsewhere = await buildSite(db())
  const person = await buildPerson(db(), { grants: [{ siteId: elsewhere.id, role: 'foreman' }] })
  stranger = viewerOf(person, elsewhere.id, 'foreman')
})

const logged = async (
  permitId: string,
  minutes: readonly [number, number],
  over: Record<string, string> = {},
) => {
  const [from, to] = [
    await siteTime(worksite.site.zone, minutes[0]),
    await siteTime(worksite.site.zone, minutes[1]),
  ]
  return logWorkSchema.parse({
    key: uuidv7(),
    permitId,
    pieces: '1',
    day: from.day,
    from: from.clock,
    to: to.clock,
    operatorId: worksite.team.operator.id,
    ...over,
  })
}

describe('preparing', () => {
  test('asks first whether it can be done cold, and says everything that is wrong at once', async () => {
    const { foreman } = viewersOf(worksite)
    const unqualified = await buildPerson(db(), {
      grants: [{ siteId: worksite.site.id, role: 'operator' }],
      isUnqualified: true,
    })
    const input = await preparation(worksite, {
      coldAnswer: 'cold',
      areaId: worksite.site.designatedArea.id,
      operatorId: unqualified.id,
    })
    await expect(preparePermit(foreman, input)).rejects.toEqual(
      refusedFor('DO_IT_COLD', 'AREA_NEEDS_NO_PERMIT', 'PERSON_NOT_QUALIFIED'),
    )
  })

  test('is refused where no permit may be issued', async () => {
    const { foreman } = viewersOf(worksite)
    const areaId = uuidv7()
    await db().query(
      `INSERT INTO areas (id, site_id, name, area_class, facts, posts) VALUES ($1, $2, 'Paint store', 'not_permitted', $3, '[]')`,
      [areaId, worksite.site.id, JSON.stringify(worksite.site.area.facts)],
    )
    await expect(preparePermit(foreman, await preparation(worksite, { areaId }))).rejects.toEqual(
      refusedFor('AREA_NOT_PERMITTED'),
    )
  })

  test('twice with the same key is one permit; the same key with other words is refused', async () => {
    const { foreman } = viewersOf(worksite)
    const input = await preparation(worksite)
    const [first, second] = await Promise.all([
      preparePermit(foreman, input),
      preparePermit(foreman, input),
    ])
    expect(second).toEqual(first)
    await expect(
      preparePermit(foreman, { ...input, what: 'Something else' }),
    ).rejects.toMatchObject({ code: 'KEY_REUSED' })
  })
})

describe('clearing', () => {
  test('is refused with the count of what is unanswered and each answer that blocks', async () => {
    const { foreman } = viewersOf(worksite)
    const permitId = await prepared(worksite)
    await answerClearance(
      foreman,
      clearanceAnswerSchema.parse({ key: uuidv7(), permitId, item: 'stores', choice: 'dust' }),
    )
    const clearing = clearPermit(foreman, permitStepSchema.parse(await formOn(permitId)))
    await expect(clearing).rejects.toEqual(
      refusedFor('survey_unanswered', 'survey_blocked', 'rules_refuse'),
    )
  })

  test('takes no answer that still owes a detail', async () => {
    const { foreman } = viewersOf(worksite)
    const permitId = await prepared(worksite)
    const typed = {
      key: uuidv7(),
      permitId,
      item: 'burnables',
      choice: 'covered',
      what: 'Pipe lagging',
    }
    await expect(
      answerClearance(foreman, clearanceAnswerSchema.parse(typed)),
    ).rejects.toMatchObject({
      reasons: [
        { code: 'DETAIL_MISSING', params: { detail: 'distanceFt' } },
        { code: 'DETAIL_MISSING', params: { detail: 'cover' } },
      ],
    })
  })

  test('by a form drawn before somebody else changed the permit is refused', async () => {
    const { foreman } = viewersOf(worksite)
    const permitId = await prepared(worksite)
    await walk(foreman, worksite, permitId)
    const stale = permitStepSchema.parse(await formOn(permitId))
    await clearPermit(foreman, permitStepSchema.parse(await formOn(permitId)))
    await expect(clearPermit(foreman, stale)).rejects.toMatchObject({ code: 'CONFLICT' })
  })

  test('keeps a bad reading as a fact, and the permit is not issued on it', async () => {
    const { foreman } = viewersOf(worksite)
    const permitId = await cleared(worksite)
    const tested = await testAir(foreman, worksite, permitId, { oxygenPct: '18.2', lelPct: '11' })
    expect(tested).toMatchObject({
      isHeld: false,
      against: [
        { code: 'gas_test_oxygen_low' },
        { code: 'gas_test_lel' },
        { code: 'gas_test_cause' },
      ],
    })
    await signBoth(worksite, permitId)
    await expect(issuePermit(foreman, await issuing(worksite, permitId))).rejects.toEqual(
      refusedFor('gas_test_oxygen_low', 'gas_test_lel'),
    )
    expect((await permitRow(permitId)).state).toBe('cleared')
  })
})

describe('a drop of oxygen within the limits', () => {
  test('is asked for its cause before it is kept, and holds nothing once it is explained', async () => {
    const open = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
    const { foreman } = viewersOf(open)
    const id = open.permit.id
    await expect(testAir(foreman, open, id, { oxygenPct: '20.8' })).rejects.toEqual(
      refusedFor('gas_test_cause'),
    )
    expect((await permitRow(id)).state).toBe('open')
    const explained = { oxygenPct: '20.8', oxygenCause: 'Rust inside the column' }
    expect(await testAir(foreman, open, id, explained)).toMatchObject({
      isHeld: false,
      against: [],
    })
  })

  test('out of the limits it is kept at once, and the permit is held', async () => {
    const open = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
    const { foreman } = viewersOf(open)
    const tested = await testAir(foreman, open, open.permit.id, { oxygenPct: '19.4' })
    expect(tested.isHeld).toBe(true)
    expect((await permitRow(open.permit.id)).state).toBe('held')
  })

  test('an instrument that was not bump-tested today proves nothing', async () => {
    const open = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
    const { foreman } = viewersOf(open)
    await testAir(foreman, open, open.permit.id, { bumpTestedOn: '2020-01-01' })
    expect((await permitRow(open.permit.id)).state).toBe('held')
  })
})

describe('signing', () => {
  test('lists every missing thing before a PIN is tried', async () => {
    const { foreman } = viewersOf(worksite)
    const permitId = await cleared(worksite)
    const late = await siteTime(worksite.site.zone, 60 * 30)
    const input = await issuing(worksite, permitId, {
      pin: '000000',
      validUntilDay: late.day,
      validUntil: late.clock,
      arrivedAt: (await siteTime(worksite.site.zone, -90)).clock,
    })
    await expect(issuePermit(foreman, input)).rejects.toEqual(
      refusedFor('signature_missing', 'valid_until_over_cap', 'pai_not_on_site'),
    )
    const { rows } = await db().query(
      "SELECT 1 FROM rate_limits WHERE action = 'pin' AND key = $1",
      [worksite.team.pai.id],
    )
    expect(rows).toHaveLength(0)
  })

  test('is only for the person who is named, in their turn, with their own PIN', async () => {
    const { foreman } = viewersOf(worksite)
    const { team } = worksite
    const permitId = await cleared(worksite)
    const sign = async (over: Record<string, string>) =>
      signPermit(
        foreman,
        signPermitSchema.parse({ ...(await formOn(permitId)), pin: PIN, ...over }),
      )
    await expect(sign({ act: 'acknowledge', personId: team.fireWatch.id })).rejects.toEqual(
      refusedFor('OPERATOR_SIGNS_FIRST'),
    )
    await expect(sign({ act: 'agree', personId: team.fireWatch.id })).rejects.toEqual(
      refusedFor('NOT_THE_NAMED_PERSON', 'not_qualified'),
    )
    await expect(
      sign({ act: 'agree', personId: team.operator.id, pin: '135791' }),
    ).rejects.toMatchObject({ code: 'PIN_WRONG', params: { triesLeft: 4 } })
  })

  test('nobody issues a permit who is no PAI of this site, nor for their own work', async () => {
    const { foreman } = viewersOf(worksite)
    const permitId = await cleared(worksite)
    const input = await issuing(worksite, permitId, { personId: worksite.team.operator.id })
    await expect(issuePermit(foreman, input)).rejects.toEqual(
      refusedFor('SIGNER_NOT_OF_SITE', 'same_person', 'not_qualified'),
    )
  })

  test('an outfit that burns under another permit is not issued a second one', async () => {
    const here = await buildWorksite(db())
    const { foreman } = viewersOf(here)
    const permitId = await cleared(here)
    await testAir(foreman, here, permitId)
    await signBoth(here, permitId)
    const second = await buildTeam(db(), here.site.id)
    await buildOpenPermit(db(), { worksite: { ...here, team: second }, area: here.site.otherArea })
    await expect(issuePermit(foreman, await issuing(here, permitId))).rejects.toEqual(
      refusedFor('OUTFIT_IN_USE'),
    )
  })

  test('the same issue sent twice opens the permit once and spends one PIN', async () => {
    const { foreman } = viewersOf(worksite)
    const here = await buildWorksite(db())
    const viewer = viewersOf(here).foreman
    const permitId = await cleared(here)
    await testAir(viewer, here, permitId)
    await signBoth(here, permitId)
    const input = await issuing(here, permitId)
    const first = await issuePermit(viewer, input)
    expect(await issuePermit(viewer, input)).toEqual(first)
    const { rows } = await db().query(
      "SELECT 1 FROM permit_events WHERE permit_id = $1 AND kind = 'issued'",
      [permitId],
    )
    expect(rows).toHaveLength(1)
    await expect(issuePermit(foreman, input)).rejects.toMatchObject({ code: 'NOT_FOUND' })
  })
})

describe('under way', () => {
  test('work outside the open time is no log of this permit, with every reason', async () => {
    const built = await buildOpenPermit(db(), { worksite })
    const other = await buildPerson(db(), {
      grants: [{ siteId: worksite.site.id, role: 'operator' }],
    })
    const { operator } = viewersOf(worksite)
    await expect(
      logWork(operator, await logged(built.permit.id, [-50, -20], { operatorId: other.id })),
    ).rejects.toEqual(refusedFor('outside_open_time', 'operator_not_on'))
    const { rows } = await db().query('SELECT 1 FROM hot_work_logs WHERE permit_id = $1', [
      built.permit.id,
    ])
    expect(rows).toHaveLength(0)
    await endWork(
      operator,
      endWorkSchema.parse({
        ...(await formOn(built.permit.id)),
        torchOut: 'yes',
        valvesShut: 'yes',
      }),
    )
  })

  test('a held permit goes on only after a new look, with the PIN of a PAI who does not cut', async () => {
    const built = await buildHeldPermit(db(), { worksite: await buildWorksite(db()) })
    const { operator } = viewersOf(built)
    const input = resumePermitSchema.parse({
      ...(await formOn(built.permit.id)),
      personId: built.team.operator.id,
      pin: PIN,
    })
    await expect(resumePermit(operator, input)).rejects.toEqual(
      refusedFor('look_missing', 'not_qualified', 'same_person', 'SIGNER_NOT_OF_SITE'),
    )
    expect((await permitRow(built.permit.id)).state).toBe('held')
  })

  test('nobody takes over the watch while they cut, and nobody is put on twice', async () => {
    const here = await buildWorksite(db())
    const built = await buildOpenPermit(db(), { worksite: here })
    const { foreman } = viewersOf(here)
    const take = async (personId: string) =>
      handOver(
        foreman,
        handOverSchema.parse({
          ...(await formOn(built.permit.id)),
          role: 'fire_watch',
          personId,
          pin: PIN,
        }),
      )
    await expect(take(here.team.operator.id)).rejects.toEqual(
      refusedFor('CUTS_AND_WATCHES', 'not_qualified'),
    )
    await expect(take(here.team.fireWatch.id)).rejects.toEqual(refusedFor('ALREADY_ON'))
  })

  test('an open permit is not withdrawn', async () => {
    const built = await buildOpenPermit(db(), { worksite: await buildWorksite(db()) })
    const { foreman } = viewersOf(built)
    const input = withdrawPermitSchema.parse({
      ...(await formOn(built.permit.id)),
      reason: 'Changed our mind',
    })
    await expect(withdrawPermit(foreman, input)).rejects.toEqual(refusedFor('wrong_state'))
  })
})

describe('access', () => {
  test('another site hears that there is no such permit, whatever it asks', async () => {
    const built = await buildPreparedPermit(db(), { worksite })
    const permitId = built.permit.id
    const form = await formOn(permitId)
    const asks = [
      () => getPermit(stranger, permitId),
      () => listPermits(stranger, { siteId: worksite.site.id, filter: 'all', after: null }),
      async () => preparePermit(stranger, await preparation(worksite)),
      () =>
        answerClearance(
          stranger,
          clearanceAnswerSchema.parse({ key: uuidv7(), permitId, item: 'stores', choice: 'none' }),
        ),
      () => clearPermit(stranger, permitStepSchema.parse(form)),
      () =>
        signPermit(
          stranger,
          signPermitSchema.parse({
            ...form,
            act: 'agree',
            personId: built.team.operator.id,
            pin: PIN,
          }),
        ),
      async () => issuePermit(stranger, await issuing(worksite, permitId)),
      () =>
        holdPermit(
          stranger,
          holdPermitSchema.parse({ ...form, torchOut: 'yes', valvesShut: 'yes', reason: 'x' }),
        ),
      () => withdrawPermit(stranger, withdrawPermitSchema.parse({ ...form, reason: 'x' })),
      async () => logWork(stranger, await logged(permitId, [-20, -10])),
      () =>
        handOver(
          stranger,
          handOverSchema.parse({
            ...form,
            role: 'operator',
            personId: built.team.operator.id,
            pin: PIN,
          }),
        ),
    ]
    for (const ask of asks) await expect(ask()).rejects.toMatchObject({ code: 'NOT_FOUND' })
  })

  test('an auditor reads and changes nothing; a fire watch neither prepares nor logs', async () => {
    const built = await buildPreparedPermit(db(), { worksite })
    const permitId = built.permit.id
    const person = await buildPerson(db(), {
      grants: [{ siteId: worksite.site.id, role: 'auditor' }],
    })
    const auditor = viewerOf(person, worksite.site.id, 'auditor')
    const { fireWatch } = viewersOf(worksite)
    const form = await formOn(permitId)
    expect((await getPermit(auditor, permitId)).head.id).toBe(permitId)
    const { day } = await siteTime(worksite.site.zone, 0)
    const air = {
      oxygenPct: '20.9',
      lelPct: '0',
      instrument: 'GM-1',
      bumpTestedOn: day,
      calibratedUntil: day,
    }
    const refused = [
      () => clearPermit(auditor, permitStepSchema.parse(form)),
      () => recordGasTest(auditor, gasTestSchema.parse({ ...form, ...air })),
      () =>
        signPermit(
          auditor,
          signPermitSchema.parse({
            ...form,
            act: 'agree',
            personId: built.team.operator.id,
            pin: PIN,
          }),
        ),
      () => withdrawPermit(auditor, withdrawPermitSchema.parse({ ...form, reason: 'x' })),
      async () => preparePermit(fireWatch, await preparation(worksite)),
      async () => logWork(fireWatch, await logged(permitId, [-20, -10])),
    ]
    for (const ask of refused) await expect(ask()).rejects.toMatchObject({ code: 'FORBIDDEN' })
  })
})
