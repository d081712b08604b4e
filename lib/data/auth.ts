import 'server-only'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { db } from './client'

export interface SignInRecord {
  personId: string
  passwordHash: string
  isDisabled: boolean
  /** The password was made by somebody else for a first sign-in, and its time is over. */
  isPastFirst: boolean
  epoch: number
}

/** What sign-in compares with. It is asked before there is a viewer. */
export async function findSignIn(email: string): Promise<SignInRecord | null> {
  const [record] = await db.$queryRaw<SignInRecord[]>`
    SELECT id AS "personId", password_hash AS "passwordHash", disabled_at IS NOT NULL AS "isDisabled",
           coalesce(password_once_until < kerf_now(), false) AS "isPastFirst", session_epoch AS epoch
    FROM people WHERE email = ${email}`
  return record ?? null
}

const either = <A extends string, B extends string>(value: string, a: A, b: B): A | B =>
  value === b ? b : a
const themeOf = (value: string) => (value === 'light' || value === 'dark' ? value : 'device')

/** A CHECK holds the roles to these. */
type ViewerRow = Readonly<{
  name: string
  units: string
  clock: string
  theme: string
  mustBegin: boolean
  grants: readonly Readonly<{ siteId: string; role: Role }>[]
}>

/**
 * The viewer behind a session, or null when it has ended: the person is unknown or disabled, or
 * `epoch` is older than the last change to their grants.
 */
export async function readViewer(personId: string, epoch: number): Promise<Viewer | null> {
  const [person] = await db.$queryRaw<ViewerRow[]>`
    SELECT p.name, p.units, p.clock, p.theme, p.password_once_until IS NOT NULL AS "mustBegin",
      coalesce((
        SELECT jsonb_agg(jsonb_build_object('siteId', g.site_id, 'role', g.role) ORDER BY g.granted_at, g.id)
        FROM grants g WHERE g.person_id = p.id AND g.revoked_at IS NULL), '[]') AS grants
    FROM people p
    WHERE p.id = ${personId}::uuid AND p.session_epoch = ${epoch} AND p.disabled_at IS NULL`
  if (!person) return null
  const { grants } = person
  return {
    personId,
    name: person.name,
    grants,
    roles: [...new Set(grants.map((grant) => grant.role))],
    units: either(person.units, 'us', 'si'),
    clock: either(person.clock, '24', '12'),
    theme: themeOf(person.theme),
    ...(person.mustBegin ? { mustBegin: true } : {}),
  }
}

/** The kept hash of a person's signing PIN; null when none is set or the person is disabled. */
export async function findPinHash(personId: string): Promise<string | null> {
  const person = await db.person.findUnique({
    where: { id: personId },
    select: { pinHash: true, disabledAt: true },
  })
  return person && !person.disabledAt ? person.pinHash : null
}

/** The hash that the password of an active person is compared with. */
export async function findPasswordHash(personId: string): Promise<string | null> {
  const person = await db.person.findUnique({
    where: { id: personId },
    select: { passwordHash: true, disabledAt: true },
  })
  return person && !person.disabledAt ? person.passwordHash : null
}

/** Whether the database holds the invented demo company. */
export async function isDemoCompany(): Promise<boolean> {
  return (await db.company.count({ where: { isDemo: true } })) > 0
}
