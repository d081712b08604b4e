import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { ONCE_DAYS } from '@/lib/auth/once-password'
import { verifyPin } from '@/lib/auth/pin'
import { checkSignIn } from '@/lib/auth/sign-in'
import { readViewer } from '@/lib/data/auth'
import { begin } from '@/lib/data/begin'
import { listPeople } from '@/lib/data/people'
import { addPerson, changePerson, giveOncePassword } from '@/lib/data/people-set-up'
import { addPersonSchema, beginSchema, changePersonSchema } from '@/lib/schemas/people'
import { buildPreparedPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { insert, newSite, newViewer, refusal, rowsOf, setCompany } from './gas-world'

const OWN = { password: 'eleven-kerf-oblique', pin: '518264' }
let siteId: string
let administrator: Viewer
let address = 0

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  administrator = await newViewer(siteId, 'administrator')
})
beforeEach(() => testDatabase().setClock(0))

const newHand = (over: Record<string, string> = {}) =>
  addPersonSchema.parse({
    key: uuidv7(),
    name: 'Ines Hand',
    email: `Ines-${uuidv7()}@Ferrowdunn.example`,
    phone: '',
    siteId,
    role: 'operator',
    ...over,
  })

function signIn(email: string, password: string | null) {
  address += 1
  return checkSignIn({ email, password: password ?? '', address: `198.51.100.${address}` })
}

async function arrive(input = newHand()) {
  const added = await addPerson(administrator, input)
  const session = await signIn(input.email, added.oncePassword)
  const viewer = await readViewer(added.id, session?.epoch ?? -1)
  if (!viewer) throw new Error('the new person could not sign in')
  return { ...added, email: input.email, viewer }
}

const own = (over: Record<string, string> = {}) =>
  beginSchema.parse({
    key: uuidv7(),
    newPassword: OWN.password,
    newPasswordAgain: OWN.password,
    newPin: OWN.pin,
    newPinAgain: OWN.pin,
    ...over,
  })

const changed = (personId: string, over: Record<string, string> = {}) =>
  changePersonSchema.parse({
    key: uuidv7(),
    personId,
    version: '0',
    name: 'Ines Handley',
    email: `i-${uuidv7()}@ferrowdunn.example`,
    phone: '555 0117',
    ...over,
  })

/** Also a foreman of a site that is not the administrator's. */
async function worksElsewhere(personId: string): Promise<void> {
  await insert('grants', {
    id: uuidv7(),
    person_id: personId,
    site_id: await newSite(),
    role: 'foreman',
  })
}

describe('a person that an administrator adds', () => {
  test('signs in with the password that was shown, and must set an own one and a PIN', async () => {
    const { viewer, id, email, oncePassword } = await arrive()
    expect(viewer).toMatchObject({ mustBegin: true, roles: ['operator'] })
    await begin(viewer, own())
    expect(await signIn(email, oncePassword)).toBeNull()
    const session = await signIn(email, OWN.password)
    expect((await readViewer(id, session?.epoch ?? -1))?.mustBegin).toBeUndefined()
    await expect(verifyPin(id, OWN.pin)).resolves.toBeUndefined()
  })

  test('is listed as not having signed in until then', async () => {
    const { viewer, id } = await arrive()
    const isNew = async () =>
      (await listPeople(administrator)).people.find((one) => one.id === id)?.isNew
    expect(await isNew()).toBe(true)
    await begin(viewer, own())
    expect(await isNew()).toBe(false)
  })

  test('cannot come in with that password when its days are over', async () => {
    const input = newHand()
    const { oncePassword } = await addPerson(administrator, input)
    await testDatabase().setClock(ONCE_DAYS * 86_400_000 + 60_000)
    expect(await signIn(input.email, oncePassword)).toBeNull()
  })

  test('signs nothing before: the database refuses a signature in their name', async () => {
    const { id } = await arrive()
    const { permit, site } = await buildPreparedPermit(testDatabase().owner)
    await expect(
      insert('signatures', {
        id: uuidv7(),
        site_id: site.id,
        permit_id: permit.id,
        person_id: id,
        act: 'agree',
        role: 'operator',
        survey_no: 1,
      }),
    ).rejects.toMatchObject({ message: expect.stringContaining('OWN_PASSWORD_FIRST') })
  })

  test('is one person when the same submission comes twice, whose password is shown once', async () => {
    const input = newHand()
    const [first, second] = [
      await addPerson(administrator, input),
      await addPerson(administrator, input),
    ]
    expect(second).toEqual({ ...first, oncePassword: null })
    expect(first.oncePassword).toMatch(/^([a-km-z2-9]{4}-){2}[a-km-z2-9]{4}$/)
    const kept = await rowsOf('SELECT result::text AS result FROM client_keys WHERE key = $1', [
      input.key,
    ])
    expect(JSON.stringify(kept)).not.toContain(first.oncePassword)
  })

  test('needs an e-mail that nobody has, in capitals or not', async () => {
    const { email } = await arrive()
    await expect(addPerson(administrator, newHand({ email: email.toUpperCase() }))).rejects.toEqual(
      refusal('EMAIL_TAKEN'),
    )
  })

  test('stands in the company’s chain and the site’s, without any secret', async () => {
    const { id } = await arrive()
    const entries = await rowsOf<{ chain: string; table_name: string; payload: string }>(
      "SELECT chain, table_name, payload FROM audit_entries WHERE subject_id = $1 AND act = 'people:add'",
      [id],
    )
    expect(entries.map((entry) => [entry.chain, entry.table_name]).sort()).toEqual(
      [
        ['company', 'people'],
        [siteId, 'grants'],
      ].sort(),
    )
    expect(entries.map((entry) => entry.payload).join()).not.toMatch(/argon2|password_hash":/)
  })

  test('is refused to who administers another site only, and to every other role', async () => {
    const elsewhere = await newViewer(await newSite(), 'administrator')
    await expect(addPerson(elsewhere, newHand())).rejects.toEqual(refusal('NOT_FOUND'))
    const manager = await newViewer(siteId, 'shop_manager')
    await expect(addPerson(manager, newHand())).rejects.toEqual(refusal('FORBIDDEN'))
  })
})

describe('an own password and PIN', () => {
  test('are not the password that was given', async () => {
    const { viewer, oncePassword } = await arrive()
    const same = { newPassword: oncePassword ?? '', newPasswordAgain: oncePassword ?? '' }
    await expect(begin(viewer, own(same))).rejects.toEqual(refusal('PASSWORD_SAME'))
  })

  test('are set once: whoever has them is refused', async () => {
    const { viewer } = await arrive()
    await begin(viewer, own())
    const other = { newPassword: 'thirteen-kerf-slant', newPasswordAgain: 'thirteen-kerf-slant' }
    await expect(begin(viewer, own(other))).rejects.toEqual(refusal('HAS_BEGUN'))
    await expect(begin(administrator, own())).rejects.toEqual(refusal('HAS_BEGUN'))
  })

  test.each([
    [{ newPassword: 'short-one', newPasswordAgain: 'short-one' }, 'PASSWORD_SHORT'],
    [{ newPassword: 'aaaaaaaaaaaa', newPasswordAgain: 'aaaaaaaaaaaa' }, 'PASSWORD_EASY'],
    [{ newPasswordAgain: 'something else' }, 'PASSWORDS_DIFFER'],
    [{ newPin: '123456', newPinAgain: '123456' }, 'PIN_TOO_EASY'],
    [{ newPinAgain: '518265' }, 'PINS_DIFFER'],
  ])('are looked at: %o says %s', (over, code) => {
    const typed = {
      key: uuidv7(),
      newPassword: OWN.password,
      newPasswordAgain: OWN.password,
      newPin: OWN.pin,
      newPinAgain: OWN.pin,
      ...over,
    }
    const issues = beginSchema.safeParse(typed).error?.issues.map((issue) => issue.message)
    expect(issues).toEqual([code])
  })
})

describe('a new first password', () => {
  test('ends the old password, the PIN and every session', async () => {
    const { viewer, id, email } = await arrive()
    await begin(viewer, own())
    const session = await signIn(email, OWN.password)
    const given = await giveOncePassword(administrator, { key: uuidv7(), personId: id })
    expect(await readViewer(id, session?.epoch ?? -1)).toBeNull()
    expect(await signIn(email, OWN.password)).toBeNull()
    await expect(verifyPin(id, OWN.pin)).rejects.toEqual(refusal('PIN_NOT_SET'))
    expect(await signIn(email, given.oncePassword)).toMatchObject({ personId: id })
  })

  test('is not given to somebody with a role at a site of another administrator, nor to oneself', async () => {
    const { id } = await arrive()
    await worksElsewhere(id)
    const ask = (personId: string) => giveOncePassword(administrator, { key: uuidv7(), personId })
    await expect(ask(id)).rejects.toEqual(refusal('PERSON_OF_OTHER_SITES'))
    await expect(ask(administrator.personId)).rejects.toEqual(refusal('OWN_PASSWORD'))
  })
})

describe('name, e-mail and telephone', () => {
  test('change, and a form that is behind is a conflict', async () => {
    const { id } = await arrive()
    await changePerson(administrator, changed(id))
    const row = (await listPeople(administrator)).people.find((one) => one.id === id)
    expect(row).toMatchObject({ name: 'Ines Handley', phone: '555 0117', version: 1 })
    await expect(changePerson(administrator, changed(id))).rejects.toEqual(refusal('CONFLICT'))
  })

  test('the e-mail of somebody of another site too stays; the name may change', async () => {
    const { id, email } = await arrive()
    await worksElsewhere(id)
    await expect(changePerson(administrator, changed(id))).rejects.toEqual(
      refusal('PERSON_OF_OTHER_SITES'),
    )
    await expect(changePerson(administrator, changed(id, { email }))).resolves.toEqual({ id })
  })
})
