import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import { clearPermit } from '@/lib/data/permits/clearance'
import { issuePermit } from '@/lib/data/permits/issue'
import { preparePermit } from '@/lib/data/permits/prepare'
import { signPermit } from '@/lib/data/permits/sign'
import { signOn } from '@/lib/data/permits/sign-ons'
import { getSignView } from '@/lib/data/permits/sign-view'
import { permitStepSchema, signPermitSchema } from '@/lib/schemas/permit'
import { signOnSchema } from '@/lib/schemas/sign-on'
import { type BuiltPerson, buildPerson } from '../../seed/builders/people'
import { buildSignedPermit, buildWorksite, type Worksite } from '../../seed/builders/permits'
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
/** Of the client: a login, both roles and both qualifications at this site. */
let client: BuiltPerson
beforeAll(async () => {
  worksite = await buildWorksite(db())
  const { id: siteId } = worksite.site
  client = await buildPerson(db(), {
    grants: [
      { siteId, role: 'pai' },
      { siteId, role: 'fire_watch' },
    ],
  })
})

const allow = (isAllowed: boolean) =>
  db().query('UPDATE sites SET lone_operator = $2 WHERE id = $1', [worksite.site.id, isAllowed])
const alone = () => preparation(worksite, { fireWatchId: client.id, loneClient: 'Marlow Mills' })

async function signedAlone(): Promise<string> {
  const { foreman } = viewersOf(worksite)
  const { id } = await preparePermit(foreman, await alone())
  await walk(foreman, worksite, id)
  await clearPermit(foreman, permitStepSchema.parse(await formOn(id)))
  await testAir(foreman, worksite, id)
  const sign = async (act: string, personId: string) =>
    signPermit(foreman, signPermitSchema.parse({ ...(await formOn(id)), act, personId, pin: PIN }))
  await sign('agree', worksite.team.operator.id)
  await sign('acknowledge', client.id)
  return id
}

const issueAs = async (permitId: string, personId: string) =>
  issuePermit(viewersOf(worksite).foreman, await issuing(worksite, permitId, { personId }))

test('where the site does not say that it may be, nobody prepares a permit for an operator alone', async () => {
  await allow(false)
  await expect(preparePermit(viewersOf(worksite).foreman, await alone())).rejects.toEqual(
    refusedFor('LONE_NOT_ALLOWED'),
  )
})

// NFPA 51B on sole proprietors, from memory: the client takes part and is the authorising side.
test('alone with the client’s person: they are briefed, watch, and sign last; nobody else may issue it', async () => {
  await allow(true)
  const permitId = await signedAlone()
  const { team } = worksite
  const view = await getSignView(viewersOf(worksite).foreman, permitId)
  expect(view.pais.map((one) => one.id)).toEqual([client.id])
  await expect(issueAs(permitId, team.pai.id)).rejects.toEqual(
    refusedFor('lone_other_signer', 'lone_not_briefed'),
  )
  await expect(issueAs(permitId, client.id)).rejects.toEqual(refusedFor('lone_not_briefed'))
  await signOn(
    viewersOf(worksite).foreman,
    signOnSchema.parse({ key: uuidv7(), permitId, personId: client.id, pin: PIN }),
  )
  // Taken back after it was prepared: refused again.
  await allow(false)
  await expect(issueAs(permitId, client.id)).rejects.toEqual(refusedFor('lone_not_allowed'))
  await allow(true)
  await issueAs(permitId, client.id)
  const row = await permitRow(permitId)
  expect(row).toMatchObject({ state: 'open', issued_by: client.id, fire_watch_id: client.id })
})

test('the database holds three people apart, and a lone operator to the client’s person', async () => {
  const issuedBy = async (permitId: string, personId: string) => {
    await db().query(
      `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no)
       VALUES ($1, $2, $3, $4, 'issue', 'pai', 1)`,
      [uuidv7(), worksite.site.id, permitId, personId],
    )
    const { rows } = await db().query(
      'SELECT frozen FROM permits WHERE site_id = $1 AND frozen IS NOT NULL LIMIT 1',
      [worksite.site.id],
    )
    return db().query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, data)
       VALUES ($1, $2, $3, 'issued', $4, 'pai', $5)`,
      [uuidv7(), worksite.site.id, permitId, personId, JSON.stringify(rows[0]?.frozen)],
    )
  }
  const own = await buildWorksite(db(), worksite.site)
  const { id: siteId } = own.site
  const both = await buildPerson(db(), {
    grants: [
      { siteId, role: 'pai' },
      { siteId, role: 'fire_watch' },
    ],
  })
  const team = { ...own.team, fireWatch: both }
  const { permit } = await buildSignedPermit(db(), {
    worksite: { ...own, team },
    area: own.site.otherArea,
  })
  await expect(issuedBy(permit.id, both.id)).rejects.toThrow('PAI_IS_WATCH')

  // One outfit burns under one permit: the one of before is held.
  await db().query(
    `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then)
     SELECT gen_random_uuid(), site_id, id, 'held', operator_id, 'operator' FROM permits WHERE site_id = $1 AND state = 'open'`,
    [siteId],
  )
  const lone = await signedAlone()
  await expect(issuedBy(lone, own.team.pai.id)).rejects.toThrow('LONE_OTHER_SIGNER')
})
