import { expect, test } from 'vitest'
import { buildCylinder } from '../../seed/builders/gear'
import { buildPerson } from '../../seed/builders/people'
import { buildHeldPermit, buildOpenPermit, buildWatchPermit } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'

const stateOf = async (id: string) =>
  (await testDatabase().owner.query('SELECT state FROM permits WHERE id = $1', [id])).rows[0]?.state

test('builders leave permits in the state they promise', async () => {
  const { owner } = testDatabase()
  const [open, held, watch] = [
    await buildOpenPermit(owner),
    await buildHeldPermit(owner),
    await buildWatchPermit(owner),
  ]
  expect([
    await stateOf(open.permit.id),
    await stateOf(held.permit.id),
    await stateOf(watch.permit.id),
  ]).toEqual(['open', 'held', 'watch'])
})

test('what builders make is written into the chain of its site', async () => {
  const { owner } = testDatabase()
  const site = await buildSite(owner)
  const keeper = await buildPerson(owner, { grants: [{ siteId: site.id, role: 'yard_hand' }] })
  const cylinder = await buildCylinder(owner, { siteId: site.id, keeperId: keeper.id })
  const { rows } = await owner.query(
    'SELECT actor_id, act FROM audit_entries WHERE chain = $1 AND subject_id = $2',
    [site.id, cylinder.id],
  )
  expect(rows).toEqual([{ actor_id: keeper.id, act: 'cylinder:receive' }])
})
