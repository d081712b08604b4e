import { v7 as uuidv7 } from 'uuid'
import { expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { checkSignIn } from '@/lib/auth/sign-in'
import { readViewer } from '@/lib/data/auth'
import { begin } from '@/lib/data/begin'
import { getCompany } from '@/lib/data/company'
import { addCrew } from '@/lib/data/crews'
import { listPeople } from '@/lib/data/people'
import { addPerson } from '@/lib/data/people-set-up'
import { addSite, getPlace, saveArea } from '@/lib/data/places'
import { addPersonSchema, beginSchema } from '@/lib/schemas/people'
import { addSiteSchema, saveAreaSchema } from '@/lib/schemas/place'
import { seedEmpty } from '@/seed/empty'
import { makeAdministrator } from '../../bin/lib/administrator.mjs'
import { emptyCompany } from '../../bin/lib/empty-company.mjs'
import { verifyRecords } from '../../bin/lib/verify.mjs'
import { testDatabase } from '../setup/database'

const DANA = { name: 'Dana Quill', email: 'Dana.Quill@quillcut.example', siteName: 'Quill yard' }
const OWN = 'eleven-kerf-oblique'
let address = 0

async function signIn(email: string, password: string): Promise<Viewer | null> {
  address += 1
  const session = await checkSignIn({ email, password, address: `203.0.113.${address}` })
  return session && readViewer(session.personId, session.epoch)
}

async function arrive(email: string, oncePassword: string): Promise<Viewer> {
  const first = await signIn(email, oncePassword)
  if (!first?.mustBegin) throw new Error('the first sign-in led nowhere')
  await begin(
    first,
    beginSchema.parse({
      key: uuidv7(),
      newPassword: OWN,
      newPasswordAgain: OWN,
      newPin: '518264',
      newPinAgain: '518264',
    }),
  )
  const viewer = await signIn(email, OWN)
  if (!viewer) throw new Error('the own password does not sign in')
  return viewer
}

test('an empty company grows from its first administrator to people, crews, sites and areas', async () => {
  const { ownerUrl } = testDatabase()
  const company = { name: 'Quill Cutting', zone: 'America/Denver', currency: 'USD' }
  expect(await seedEmpty(ownerUrl, company)).toBe(true)
  expect(await seedEmpty(ownerUrl, company)).toBe(false)

  const made = await makeAdministrator(ownerUrl, DANA)
  expect(made).toMatchObject({ isNew: true, given: ['Quill yard'] })
  const dana = await arrive(DANA.email, made.oncePassword)
  expect(await getCompany(dana)).toMatchObject({
    name: 'Quill Cutting',
    timeZone: 'America/Denver',
  })
  const yard = dana.grants[0]?.siteId ?? ''
  expect((await getPlace(dana, yard)).site).toMatchObject({ zone: 'America/Denver' })

  const { id: pier } = await addSite(
    dana,
    addSiteSchema.parse({
      key: uuidv7(),
      name: 'Pier 4',
      shortName: 'Pier 4',
      kind: 'harbor',
      zone: 'America/Los_Angeles',
      address: '4 Water Street',
      emergencyWords: '911, then gate 2.',
      shiftEnds: '15:30',
      deliveryDays: ['2'],
      likeSiteId: yard,
    }),
  )
  const both = await signIn(DANA.email, OWN)
  if (!both) throw new Error('the administrator is shut out')
  await saveArea(
    both,
    saveAreaSchema.parse({
      key: uuidv7(),
      siteId: pier,
      areaId: '',
      name: 'Deck',
      areaClass: 'permit',
      floor: 'noncombustible',
      wall: 'metal',
      levelFt: '8',
      shipyardSpace: 'other_space',
      posts: 'At the work\nBelow',
      seenWithId: '',
    }),
  )
  await addCrew(both, { key: uuidv7(), siteId: pier, name: 'Crew A' })
  const hand = addPersonSchema.parse({
    key: uuidv7(),
    name: 'Ines Hand',
    email: 'ines@quillcut.example',
    phone: '',
    siteId: pier,
    role: 'operator',
  })
  const { oncePassword } = await addPerson(both, hand)
  const ines = await arrive(hand.email, oncePassword ?? '')
  expect(ines.grants).toEqual([{ siteId: pier, role: 'operator' }])
  const page = await listPeople(both)
  expect(page.people.map((person) => person.name)).toEqual(['Dana Quill', 'Ines Hand'])
  expect(page.crews.map((crew) => crew.name)).toEqual(['Crew A'])
  expect(await verifyRecords(ownerUrl)).toMatchObject({ ok: true })
})

test('an administrator who is locked out gets in again at the console, at every site there is', async () => {
  const { ownerUrl } = testDatabase()
  const again = await makeAdministrator(ownerUrl, DANA)
  expect(again).toMatchObject({ isNew: false, given: [] })
  expect(await signIn(DANA.email, OWN)).toBeNull()
  expect(await signIn(DANA.email, again.oncePassword)).toMatchObject({ mustBegin: true })
  const other = await makeAdministrator(ownerUrl, {
    ...DANA,
    name: 'Bo',
    email: 'bo@quillcut.example',
  })
  expect(other.given).toEqual(['Pier 4', 'Quill yard'])
})

test('npm start makes an empty company only where it is asked to', () => {
  expect(emptyCompany([], {})).toBeNull()
  expect(emptyCompany(['--dev'], { KERFWATCH_EMPTY: '0' })).toBeNull()
  expect(emptyCompany(['--empty', '--company', 'Quill', '--zone', 'America/Denver'], {})).toEqual({
    name: 'Quill',
    zone: 'America/Denver',
    currency: 'USD',
  })
  expect(emptyCompany([], { KERFWATCH_EMPTY: '1' })).toMatchObject({ name: 'My company' })
})
