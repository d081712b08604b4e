import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can, type Role, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import type {
  GrantRoleInput,
  QualificationInput,
  RevokeGrantInput,
  SetDisabledInput,
} from '@/lib/schemas/people'
import { db } from './client'
import { once } from './client-keys'
import { readNow } from './cylinders'
import { listMySites, type SiteFrame } from './sites'
import { inTransaction } from './tx'

const MOST_PEOPLE = 200
const MOST_OUTFITS = 100
const SOON_MS = 30 * 86_400_000

export type Holding = Readonly<{
  kind: string
  validFrom: Date
  validUntil: Date
  /** On the company's day: holds, ends within thirty days, has ended, or has not begun. */
  standing: 'holds' | 'soon' | 'ended' | 'not_begun'
}>

export type PersonRow = Readonly<{
  id: string
  name: string
  email: string
  isDisabled: boolean
  hasPin: boolean
  /** Only at the viewer's own sites. */
  grants: readonly Readonly<{ id: string; role: Role; siteId: string; siteName: string }>[]
  qualifications: readonly Holding[]
  crewNames: readonly string[]
}>

export type OutfitRow = Readonly<{
  id: string
  number: string
  siteName: string
  crewName: string | null
  fuelGasId: string
  isInService: boolean
  reason: string | null
  parts: readonly Readonly<{
    kind: string
    name: string
    shopTip: string | null
    checkedOn: Date | null
  }>[]
}>

export type PeoplePage = Readonly<{
  now: Date
  people: readonly PersonRow[]
  outfits: readonly OutfitRow[]
  sites: readonly SiteFrame[]
  mayWrite: boolean
}>

function standingOf(from: Date, until: Date, today: Date): Holding['standing'] {
  if (today < from) return 'not_begun'
  if (today > until) return 'ended'
  return until.getTime() - today.getTime() < SOON_MS ? 'soon' : 'holds'
}

/** People with a role at the viewer's sites, what they may do there and until when; and the outfits there. */
export async function listPeople(viewer: Viewer): Promise<PeoplePage> {
  const siteIds = sitesWhere(viewer, 'people:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'people:read' })
  const here = { siteId: { in: siteIds }, revokedAt: null }
  const [now, sites, people, outfits] = await Promise.all([
    readNow(),
    listMySites(viewer),
    db.person.findMany({
      where: { grants: { some: here } },
      orderBy: [{ name: 'asc' }, { id: 'asc' }],
      take: MOST_PEOPLE,
      select: {
        id: true,
        name: true,
        email: true,
        disabledAt: true,
        pinHash: true,
        grants: {
          where: here,
          select: { id: true, role: true, siteId: true },
          orderBy: { grantedAt: 'asc' },
        },
        qualifications: {
          select: { kind: true, validFrom: true, validUntil: true },
          orderBy: { validUntil: 'desc' },
        },
        crewMembers: { where: { toDate: null }, select: { crew: { select: { name: true } } } },
      },
    }),
    db.outfit.findMany({
      where: { siteId: { in: siteIds } },
      orderBy: { number: 'asc' },
      take: MOST_OUTFITS,
      select: {
        id: true,
        number: true,
        siteId: true,
        fuelGasId: true,
        state: true,
        stateReason: true,
        crew: { select: { name: true } },
        parts: {
          select: { kind: true, name: true, shopTip: true, checkedOn: true },
          orderBy: { kind: 'asc' },
        },
      },
    }),
  ])
  const today = new Date(`${localDay(now, sites[0]?.zone ?? 'UTC')}T00:00:00Z`)
  const siteName = (id: string) => sites.find((site) => site.id === id)?.shortName ?? ''
  return {
    now,
    sites: sites.filter((site) => siteIds.includes(site.id)),
    mayWrite: sitesWhere(viewer, 'people:write').length > 0,
    people: people.map((person) => ({
      id: person.id,
      name: person.name,
      email: person.email,
      isDisabled: person.disabledAt !== null,
      hasPin: person.pinHash !== null,
      grants: person.grants.map((grant) => ({
        ...grant,
        role: grant.role as Role, // a CHECK holds the column to these
        siteName: siteName(grant.siteId),
      })),
      qualifications: latestOfEach(person.qualifications).map((one) => ({
        ...one,
        standing: standingOf(one.validFrom, one.validUntil, today),
      })),
      crewNames: person.crewMembers.map((member) => member.crew.name),
    })),
    outfits: outfits.map(({ siteId, state, stateReason, crew, ...outfit }) => ({
      ...outfit,
      siteName: siteName(siteId),
      crewName: crew?.name ?? null,
      isInService: state === 'in_service',
      reason: stateReason,
    })),
  }
}

/** Rows come with the longest validity first; of each kind that one counts. */
const latestOfEach = <T extends { kind: string }>(rows: readonly T[]): T[] =>
  rows.filter((row, index) => rows.findIndex((one) => one.kind === row.kind) === index)

/** Administrators act on people of the sites where they are one. */
async function assertMayWrite(viewer: Viewer, personId: string): Promise<void> {
  const mine = sitesWhere(viewer, 'people:write')
  if (mine.length === 0) throw new AppError('FORBIDDEN', { action: 'people:write' })
  const grant = await db.grant.findFirst({
    where: { personId, siteId: { in: mine } },
    select: { id: true },
  })
  if (!grant) throw new AppError('NOT_FOUND')
}

/** Gives a role at a site; every session of that person ends. */
export async function grantRole(viewer: Viewer, input: GrantRoleInput): Promise<{ id: string }> {
  if (!can(viewer, 'people:write', input.siteId)) {
    throw new AppError(can(viewer, 'site:read', input.siteId) ? 'FORBIDDEN' : 'NOT_FOUND', {
      action: 'people:write',
    })
  }
  await assertMayWrite(viewer, input.personId)
  return inTransaction(viewer, 'people:grant', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:grant', input }, async () => {
      const { personId, siteId, role } = input
      const held = await tx.grant.findFirst({
        where: { personId, siteId, role, revokedAt: null },
        select: { id: true },
      })
      if (held) throw new AppError('ROLE_HELD', { role })
      const id = uuidv7()
      await tx.grant.create({
        select: { id: true },
        data: { id, personId, siteId, role, grantedBy: viewer.personId },
      })
      return { id }
    }),
  )
}

/** Takes a role back; nobody takes their own last administrator's role. */
export async function revokeGrant(
  viewer: Viewer,
  input: RevokeGrantInput,
): Promise<{ id: string }> {
  const grant = await db.grant.findUnique({
    where: { id: input.grantId },
    select: { siteId: true, personId: true, role: true },
  })
  if (!grant || !can(viewer, 'site:read', grant.siteId)) throw new AppError('NOT_FOUND')
  if (!can(viewer, 'people:write', grant.siteId))
    throw new AppError('FORBIDDEN', { action: 'people:write' })
  if (grant.personId === viewer.personId && grant.role === 'administrator')
    throw new AppError('OWN_ROLE')
  return inTransaction(viewer, 'people:revoke', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:revoke', input }, async () => {
      const [row] = await tx.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`
      const { count } = await tx.grant.updateMany({
        where: { id: input.grantId, revokedAt: null },
        data: { revokedAt: row?.now ?? null },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.grantId }
    }),
  )
}

/** Shuts a person out at once, or lets them in again. */
export async function setDisabled(
  viewer: Viewer,
  input: SetDisabledInput,
): Promise<{ id: string }> {
  await assertMayWrite(viewer, input.personId)
  if (input.personId === viewer.personId) throw new AppError('OWN_ROLE')
  return inTransaction(viewer, 'people:disable', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:disable', input }, async () => {
      const [row] = await tx.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`
      await tx.person.update({
        where: { id: input.personId },
        data: { disabledAt: input.disabled === 'yes' ? (row?.now ?? null) : null },
        select: { id: true },
      })
      return { id: input.personId }
    }),
  )
}

export async function addQualification(
  viewer: Viewer,
  input: QualificationInput,
): Promise<{ id: string }> {
  await assertMayWrite(viewer, input.personId)
  return inTransaction(viewer, 'people:qualify', (tx) =>
    once(tx, viewer, { key: input.key, action: 'people:qualify', input }, async () => {
      const id = uuidv7()
      await tx.qualification.create({
        select: { id: true },
        data: {
          id,
          personId: input.personId,
          kind: input.kind,
          validFrom: new Date(`${input.validFrom}T00:00:00Z`),
          validUntil: new Date(`${input.validUntil}T00:00:00Z`),
          evidence: input.evidence,
          recordedBy: viewer.personId,
        },
      })
      return { id }
    }),
  )
}
