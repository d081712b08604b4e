import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import { reopenClearance } from '@/lib/data/permits/clearance'
import { issuePermit } from '@/lib/data/permits/issue'
import { namePeople } from '@/lib/data/permits/name-people'
import { signPermit } from '@/lib/data/permits/sign'
import { getSignView } from '@/lib/data/permits/sign-view'
import { namePeopleSchema, permitStepSchema, signPermitSchema } from '@/lib/schemas/permit'
import { buildPerson } from '../../seed/builders/people'
import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { asRuntime, refusal } from './invariants/world'
import {
  cleared,
  formOn,
  issued,
  issuing,
  PIN,
  permitRow,
  refusedFor,
  signBoth,
  testAir,
  viewersOf,
} from './permit-world'

let worksite: Worksite
const db = () => testDatabase().owner
const foreman = () => viewersOf(worksite).foreman

beforeAll(async () => {
  worksite = await buildWorksite(db())
})

const hashOf = async (permitId: string) => {
  const { rows } = await db().query('SELECT kerf_permit_hash($1) AS hash', [permitId])
  return String(rows[0].hash)
}
/** Something of the area that was not so when it was signed for; its own fact, which no form of a permit shows. */
const changeArea = (name: string) =>
  db().query(
    "UPDATE areas SET posts = posts || jsonb_build_array(jsonb_build_object('id', $2::text, 'name', $2::text)) WHERE id = $1",
    [worksite.site.area.id, name],
  )
const agree = async (permitId: string, over: Record<string, string> = {}) =>
  signPermitSchema.parse({
    ...(await formOn(permitId)),
    act: 'agree',
    personId: worksite.team.operator.id,
    pin: PIN,
    ...over,
  })
const stepsOf = async (permitId: string) =>
  (await getSignView(foreman(), permitId)).steps.map(({ signedAt }) => signedAt !== null)

describe('a signature is for what stood on the screen', () => {
  test('and keeps its hash', async () => {
    const permitId = await cleared(worksite)
    const hash = await hashOf(permitId)
    await signPermit(foreman(), await agree(permitId))
    const { rows } = await db().query('SELECT content_hash FROM signatures WHERE permit_id = $1', [
      permitId,
    ])
    expect(rows).toEqual([{ content_hash: hash }])
    expect((await getSignView(foreman(), permitId)).head.contentHash).toBe(hash)
  })

  test('one that was drawn before a change is refused, and no PIN is tried', async () => {
    const permitId = await cleared(worksite)
    const before = await agree(permitId, { pin: '0000' })
    await changeArea('Stair')
    await expect(signPermit(foreman(), before)).rejects.toMatchObject({ code: 'CONTENT_CHANGED' })
  })

  test('a change after it voids it: it is asked for again, and no issue goes without', async () => {
    const permitId = await cleared(worksite)
    await testAir(foreman(), worksite, permitId)
    await signBoth(worksite, permitId)
    expect(await stepsOf(permitId)).toEqual([true, true])
    await changeArea('Landing')
    expect(await stepsOf(permitId)).toEqual([false, false])
    await expect(issuePermit(foreman(), await issuing(worksite, permitId))).rejects.toMatchObject(
      refusedFor('signature_voided'),
    )
    await signBoth(worksite, permitId)
    await issuePermit(foreman(), await issuing(worksite, permitId))
    expect((await permitRow(permitId)).state).toBe('open')
  })

  test('a gas test is a fact of its own and voids nothing', async () => {
    const permitId = await cleared(worksite)
    await signBoth(worksite, permitId)
    await testAir(foreman(), worksite, permitId)
    expect(await stepsOf(permitId)).toEqual([true, true])
  })

  test('clearing again asks for them again', async () => {
    const permitId = await cleared(worksite)
    await signBoth(worksite, permitId)
    await reopenClearance(foreman(), permitStepSchema.parse(await formOn(permitId)))
    const { rows } = await db().query('SELECT content_hash FROM signatures WHERE permit_id = $1', [
      permitId,
    ])
    expect(rows.map((row) => row.content_hash)).not.toContain(await hashOf(permitId))
  })

  test('the database itself takes none for anything else, nor an issue on one', async () => {
    const permitId = await cleared(worksite)
    const { operator, pai } = worksite.team
    const sign = (hash: string | null, person = operator, act = 'agree', role = 'operator') =>
      refusal(
        asRuntime(testDatabase(), person.id, (client) =>
          client.query(
            `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no, content_hash) VALUES ($1, $2, $3, $4, $5, $6, 1, $7)`,
            [uuidv7(), worksite.site.id, permitId, person.id, act, role, hash],
          ),
        ),
      )
    expect((await sign('0'.repeat(64))).codes).toEqual(['CONTENT_CHANGED'])
    expect((await sign(null)).codes).toEqual(['CONTENT_CHANGED'])
    await testAir(foreman(), worksite, permitId)
    await signBoth(worksite, permitId)
    await changeArea('Roof')
    const issue = asRuntime(testDatabase(), pai.id, async (client) => {
      await client.query(
        `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no, content_hash) VALUES ($1, $2, $3, $4, 'issue', 'pai', 1, kerf_permit_hash($3))`,
        [uuidv7(), worksite.site.id, permitId, pai.id],
      )
      await client.query(
        `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data) VALUES ($1, $2, $3, 'issued', $4, 'pai', '{}')`,
        [uuidv7(), worksite.site.id, permitId, pai.id],
      )
    })
    expect((await refusal(issue)).codes).toEqual(expect.arrayContaining(['SIGNATURE_MISSING']))
  })
})

describe('who cuts and who watches', () => {
  const naming = async (permitId: string, over: Record<string, string> = {}) =>
    namePeopleSchema.parse({
      ...(await formOn(permitId)),
      operatorId: worksite.team.operator.id,
      fireWatchId: worksite.team.fireWatch.id,
      why: 'Called away',
      ...over,
    })
  const relief = () =>
    buildPerson(db(), { grants: [{ siteId: worksite.site.id, role: 'fire_watch' as const }] })

  test('may change until the issue, is kept with who said so and why, and voids what was signed', async () => {
    const permitId = await cleared(worksite)
    await signBoth(worksite, permitId)
    const other = await relief()
    await namePeople(foreman(), await naming(permitId, { fireWatchId: other.id }))
    const view = await getSignView(foreman(), permitId)
    expect(view.steps).toMatchObject([
      { act: 'agree', signedAt: null },
      { act: 'acknowledge', personId: other.id, signedAt: null },
    ])
    const { rows } = await db().query(
      "SELECT payload::jsonb -> 'row' ->> 'why' AS why FROM audit_entries WHERE table_name = 'permit_people' AND subject_id = $1",
      [permitId],
    )
    expect(rows).toEqual([{ why: 'Called away' }])
  })

  test('is refused with every reason: the same two, one in both parts, one not qualified', async () => {
    const permitId = await cleared(worksite)
    await expect(namePeople(foreman(), await naming(permitId))).rejects.toMatchObject(
      refusedFor('PEOPLE_UNCHANGED'),
    )
    const { operator, fireWatch } = worksite.team
    await expect(
      namePeople(foreman(), await naming(permitId, { fireWatchId: operator.id })),
    ).rejects.toMatchObject(refusedFor('OPERATOR_IS_WATCH'))
    const other = await relief()
    await expect(
      namePeople(
        foreman(),
        await naming(permitId, { operatorId: other.id, fireWatchId: fireWatch.id }),
      ),
    ).rejects.toMatchObject(refusedFor('PERSON_NOT_QUALIFIED'))
  })

  test('is whoever the site has, however many come before them in any list', async () => {
    const permitId = await cleared(worksite)
    await db().query(
      `WITH more AS (
         INSERT INTO people (id, name, email, password_hash)
         SELECT gen_random_uuid(), 'Aa ' || n, 'aa' || n || '@example.com', 'x' FROM generate_series(1, 201) n RETURNING id)
       INSERT INTO grants (id, person_id, site_id, role) SELECT gen_random_uuid(), id, $1, 'operator' FROM more`,
      [worksite.site.id],
    )
    const other = await relief()
    await namePeople(foreman(), await naming(permitId, { fireWatchId: other.id }))
    expect((await getSignView(foreman(), permitId)).steps[1]?.personId).toBe(other.id)
  })

  test('stays as issued afterwards, whatever the app does', async () => {
    const own = await buildWorksite(db())
    const permitId = await issued(own)
    const other = await buildPerson(db(), {
      grants: [{ siteId: own.site.id, role: 'fire_watch' as const }],
    })
    await expect(
      namePeople(
        viewersOf(own).foreman,
        namePeopleSchema.parse({
          ...(await formOn(permitId)),
          operatorId: own.team.operator.id,
          fireWatchId: other.id,
          why: 'Later',
        }),
      ),
    ).rejects.toMatchObject(refusedFor('wrong_state'))
    const attempt = asRuntime(testDatabase(), own.team.foreman.id, (client) =>
      client.query(
        `INSERT INTO permit_people (id, site_id, permit_id, operator_id, fire_watch_id, why, person_id, role_then) VALUES ($1, $2, $3, $4, $5, 'x', $6, 'foreman')`,
        [uuidv7(), own.site.id, permitId, own.team.operator.id, other.id, own.team.foreman.id],
      ),
    )
    expect((await refusal(attempt)).codes).toEqual(['WRONG_STATE'])
    await expect(
      db().query('UPDATE permits SET fire_watch_id = $2 WHERE id = $1', [permitId, other.id]),
    ).rejects.toThrow()
  })
})
