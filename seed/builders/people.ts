import { hash } from '@node-rs/argon2'
import { v7 as uuidv7 } from 'uuid'
import type { Role } from '@/lib/access/access'
import { type Db, databaseNow, playNow } from '../play'
import { writeSetUp } from '../records/scribe'
import { addDays, localDay } from '../zones'

export const BUILT_PASSWORD = 'nine-kerf-parallel'
export const BUILT_PIN = '246810'

export type BuiltPerson = Readonly<{
  id: string
  name: string
  email: string
  password: string
  pin: string
}>

let secrets: Promise<{ password: string; pin: string }> | undefined

/** Everybody that tests build shares one password and one PIN: argon2 is slow on purpose. */
async function sharedSecrets() {
  secrets ??= Promise.all([hash(BUILT_PASSWORD), hash(BUILT_PIN)]).then(([password, pin]) => ({
    password,
    pin,
  }))
  return secrets
}

const KIND_OF: Partial<Record<Role, string>> = {
  operator: 'torch_operator',
  fire_watch: 'fire_watch',
  pai: 'pai',
}

export type PersonWanted = Readonly<{
  grants?: readonly Readonly<{ siteId: string; role: Role }>[]
  name?: string
  /** Without the qualification that goes with a role. */
  isUnqualified?: boolean
  /** Qualifications beyond those that go with the roles. */
  kinds?: readonly string[]
  hasPin?: boolean
}>

/** A person with grants, the qualifications that go with them, a password and a PIN. */
export async function buildPerson(db: Db, wanted: PersonWanted = {}): Promise<BuiltPerson> {
  const id = uuidv7()
  const tail = id.slice(-8)
  const person = {
    id,
    name: wanted.name ?? `Ada Test ${tail}`,
    email: `p-${tail}-${id.slice(0, 8)}@ferrowdunn.example`,
    password: BUILT_PASSWORD,
    pin: BUILT_PIN,
  }
  const hashes = await sharedSecrets()
  const today = localDay('UTC', await databaseNow(db))
  const grants = wanted.grants ?? []
  const kinds = wanted.isUnqualified
    ? []
    : [
        ...new Set([
          ...grants.map(({ role }) => KIND_OF[role]).filter((kind) => kind !== undefined),
          ...(wanted.kinds ?? []),
        ]),
      ]
  await playNow(db, (scribe) => {
    const row = { id, name: person.name, email: person.email, password_hash: hashes.password }
    writeSetUp(scribe, 0, 'people', {
      ...row,
      pin_hash: wanted.hasPin === false ? null : hashes.pin,
    })
    for (const { siteId, role } of grants) {
      writeSetUp(scribe, 0, 'grants', { id: uuidv7(), person_id: id, site_id: siteId, role })
    }
    for (const kind of kinds) {
      const days = { valid_from: addDays(today, -400), valid_until: addDays(today, 400) }
      writeSetUp(scribe, 0, 'qualifications', {
        id: uuidv7(),
        person_id: id,
        kind,
        ...days,
        evidence: 'Built for a test',
      })
    }
  })
  return person
}

export type BuiltTeam = Readonly<{
  foreman: BuiltPerson
  operator: BuiltPerson
  fireWatch: BuiltPerson
  pai: BuiltPerson
}>

/** The four people that a permit needs. */
export async function buildTeam(db: Db, siteId: string): Promise<BuiltTeam> {
  const one = (...roles: Role[]) =>
    buildPerson(db, { grants: roles.map((role) => ({ siteId, role })) })
  return {
    foreman: await one('foreman', 'yard_hand'),
    operator: await one('operator'),
    fireWatch: await one('fire_watch'),
    pai: await one('pai'),
  }
}
