import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import { clearPermit } from '@/lib/data/permits/clearance'
import { issuePermit } from '@/lib/data/permits/issue'
import { preparePermit } from '@/lib/data/permits/prepare'
import { signPermit } from '@/lib/data/permits/sign'
import { getSignView } from '@/lib/data/permits/sign-view'
import { permitStepSchema, signPermitSchema } from '@/lib/schemas/permit'
import { type BuiltPerson, buildPerson } from '../../seed/builders/people'
import { buildOpenPermit, buildWorksite, type Worksite } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import {
  formOn,
  issuing,
  PIN,
  permitRow,
  preparation,
  refusedFor,
  testAir,
  viewersOf,
  walk,
} from './permit-world'

const db = () => testDatabase().owner
let worksite: Worksite
/** Both roles and both qualifications at this site. */
let both: BuiltPerson
beforeAll(async () => {
  worksite = await buildWorksite(db())
  const { id: siteId } = worksite.site
  both = await buildPerson(db(), {
    grants: [
      { siteId, role: 'pai' },
      { siteId, role: 'fire_watch' },
    ],
  })
})

const allow = (isAllowed: boolean) =>
  db().query('UPDATE sites SET pai_may_watch = $2 WHERE id = $1', [worksite.site.id, isAllowed])

async function signedWithBoth(): Promise<string> {
  const { foreman } = viewersOf(worksite)
  const { id } = await preparePermit(foreman, await preparation(worksite, { fireWatchId: both.id }))
  await walk(foreman, worksite, id)
  await clearPermit(foreman, permitStepSchema.parse(await formOn(id)))
  await testAir(foreman, worksite, id)
  const sign = async (act: string, personId: string) =>
    signPermit(foreman, signPermitSchema.parse({ ...(await formOn(id)), act, personId, pin: PIN }))
  await sign('agree', worksite.team.operator.id)
  await sign('acknowledge', both.id)
  return id
}

const allowedByDatabase = async () =>
  (
    await db().query<{ may: boolean }>('SELECT kerf_pai_may_watch($1, kerf_now()) AS may', [
      worksite.site.id,
    ])
  ).rows[0]?.may

/** Opened behind the app's back, on what another permit of the site was issued on. */
async function openedByHand(permitId: string, frozen: unknown) {
  const { id: siteId } = worksite.site
  const client = await db().connect()
  try {
    await client.query('BEGIN')
    await client.query(
      `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no) VALUES ($1, $2, $3, $4, 'issue', 'pai', 1)`,
      [uuidv7(), siteId, permitId, both.id],
    )
    await client.query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data) VALUES ($1, $2, $3, 'issued', $4, 'pai', $5)`,
      [uuidv7(), siteId, permitId, both.id, JSON.stringify(frozen)],
    )
  } finally {
    await client.query('ROLLBACK')
    client.release()
  }
}

// NFPA 51B, from memory, low confidence: whether the PAI may watch is the site's word, and no at first.
test('the PAI watches only where the site lets them, and never under shipyard rules, by the app and by the database', async () => {
  const { foreman } = viewersOf(worksite)
  const own = await buildWorksite(db(), worksite.site)
  const other = await buildOpenPermit(db(), { worksite: own, area: own.site.otherArea })
  const { rows } = await db().query<{ frozen: object }>(
    'SELECT frozen FROM permits WHERE id = $1',
    [other.permit.id],
  )
  const permitId = await signedWithBoth()
  const offered = async () => (await getSignView(foreman, permitId)).pais.map((one) => one.id)
  const issued = async () =>
    issuePermit(foreman, await issuing(worksite, permitId, { personId: both.id }))

  expect(await offered()).not.toContain(both.id)
  await expect(issued()).rejects.toEqual(refusedFor('same_person'))
  await expect(openedByHand(permitId, rows[0]?.frozen)).rejects.toThrow('PAI_IS_WATCH')

  await allow(true)
  expect(await offered()).toContain(both.id)
  await db().query(
    `INSERT INTO site_rulesets (id, site_id, ruleset_id) VALUES (gen_random_uuid(), $1, 'us-osha-1915')`,
    [worksite.site.id],
  )
  expect(await offered()).not.toContain(both.id)
  await expect(issued()).rejects.toEqual(refusedFor('same_person'))
  expect(await allowedByDatabase()).toBe(false)

  await db().query(
    `UPDATE site_rulesets SET to_at = kerf_now() WHERE site_id = $1 AND ruleset_id = 'us-osha-1915'`,
    [worksite.site.id],
  )
  expect(await allowedByDatabase()).toBe(true)
  await issued()
  expect(await permitRow(permitId)).toMatchObject({
    state: 'open',
    issued_by: both.id,
    fire_watch_id: both.id,
  })
})
