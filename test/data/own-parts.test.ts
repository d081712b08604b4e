import { expect, test } from 'vitest'
import { getOwnParts } from '@/lib/data/permits/own-parts'
import { buildPerson } from '../../seed/builders/people'
import { buildClearedPermit, buildHeldPermit, buildSignedPermit } from '../../seed/builders/permits'
import { buildSite } from '../../seed/builders/sites'
import { testDatabase } from '../setup/database'
import { viewerOf, viewersOf } from './permit-world'

const db = () => testDatabase().owner

test('whoever scans the code finds what waits for them, each in turn', async () => {
  const cleared = await buildClearedPermit(db())
  const { operator, fireWatch, pai } = viewersOf(cleared)
  const of = (who: typeof operator) => getOwnParts(who, cleared.permit.id)
  expect([await of(operator), await of(fireWatch), await of(pai)]).toEqual([
    ['agree', 'brief'],
    ['brief'],
    ['brief'],
  ])
  const signed = await buildSignedPermit(db())
  const all = viewersOf(signed)
  expect(await getOwnParts(all.pai, signed.permit.id)).toEqual(['issue', 'brief'])
  expect(await getOwnParts(all.operator, signed.permit.id)).toEqual(['brief'])
  const held = await buildHeldPermit(db())
  expect(await getOwnParts(viewersOf(held).pai, held.permit.id)).toEqual(['resume', 'brief'])
})

test('a stranger to the site learns nothing by the code', async () => {
  const { permit } = await buildClearedPermit(db())
  const elsewhere = await buildSite(db())
  const person = await buildPerson(db(), { grants: [{ siteId: elsewhere.id, role: 'pai' }] })
  expect(await getOwnParts(viewerOf(person, elsewhere.id, 'pai'), permit.id)).toBeNull()
})
