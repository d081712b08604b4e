import 'server-only'
import { type Role, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { localDay } from '@/lib/format/local-time'
import { END_STAGES } from '@/lib/permit/people-today'
import { QUALIFICATION_KINDS } from '@/lib/schemas/people'
import { db } from './client'
import { getCompany } from './company'
import {
  type CrewRow,
  countQualificationTroubles,
  listCrews,
  listOutfits,
  type OutfitRow,
} from './people-gear'
import { listMySites, type SiteFrame } from './sites'

type QualificationKind = (typeof QUALIFICATION_KINDS)[number]

const PAGE = 50
/** When an end is first seen; the notices of 30 and 7 days come after. */
const SOON_MS = END_STAGES[0] * 86_400_000

/** What a role asks its holder to be qualified as. */
const KIND_OF: Readonly<Partial<Record<Role, QualificationKind>>> = {
  operator: 'torch_operator',
  fire_watch: 'fire_watch',
  pai: 'pai',
}
const SIGNERS: ReadonlySet<Role> = new Set(['operator', 'fire_watch', 'pai', 'foreman'])

export type Holding = Readonly<{
  kind: QualificationKind
  /** On the company's day: holds, ends within sixty days, has ended, has not begun; or a role asks for it and there is none. */
  standing: 'holds' | 'soon' | 'ended' | 'not_begun' | 'missing'
  /** The day that the standing is about; null where there is none. */
  day: Date | null
}>

export type PersonRow = Readonly<{
  id: string
  name: string
  email: string
  phone: string | null
  /** The subcontractor's; null: the company's own people. */
  firm: string | null
  version: number
  disabledAt: Date | null
  /** Has not signed in yet with the password that was made for them. */
  isNew: boolean
  /** Signs permits by role, and can't: no PIN is set. */
  isWithoutPin: boolean
  /** Only at the viewer's own sites. */
  grants: readonly Readonly<{ id: string; role: Role; siteId: string; siteName: string }>[]
  holdings: readonly Holding[]
  crewNames: readonly string[]
}>

export type PeoplePage = Readonly<{
  timeZone: string
  people: readonly PersonRow[]
  /** Where the next page begins. */
  next: string | null
  crews: readonly CrewRow[]
  outfits: readonly OutfitRow[]
  sites: readonly SiteFrame[]
  troubles: Readonly<{ ended: number; soon: number }>
  mayWrite: boolean
  mayAddOutfits: boolean
}>

type Qualified = Readonly<{ kind: string; validFrom: Date; validUntil: Date }>

const DAY_MS = 86_400_000

/** The last day that is covered without a gap from today on; null where today is not covered. */
function coveredUntil(rows: readonly Qualified[], today: Date): Date | null {
  let until: Date | null = null
  for (const row of rows.toSorted((a, b) => a.validFrom.getTime() - b.validFrom.getTime())) {
    const isJoined = row.validFrom.getTime() <= (until ? until.getTime() + DAY_MS : today.getTime())
    if (isJoined && row.validUntil >= (until ?? today)) until = row.validUntil
  }
  return until
}

function standingOf(rows: readonly Qualified[], today: Date): Omit<Holding, 'kind'> {
  const until = coveredUntil(rows, today)
  if (until)
    return { standing: until.getTime() - today.getTime() < SOON_MS ? 'soon' : 'holds', day: until }
  const begins = rows.map((row) => row.validFrom).filter((day) => day > today)
  if (begins.length > 0)
    return { standing: 'not_begun', day: new Date(Math.min(...begins.map(Number))) }
  const ends = rows.map((row) => row.validUntil.getTime())
  return { standing: 'ended', day: new Date(Math.max(...ends)) }
}

/** How each kind stands that the person has, or that a role of theirs asks for. */
function holdingsOf(rows: readonly Qualified[], roles: readonly Role[], today: Date): Holding[] {
  return QUALIFICATION_KINDS.flatMap((kind): Holding[] => {
    const own = rows.filter((row) => row.kind === kind)
    if (own.length > 0) return [{ kind, ...standingOf(own, today) }]
    return roles.some((role) => KIND_OF[role] === kind)
      ? [{ kind, standing: 'missing', day: null }]
      : []
  })
}

const CURSOR = /^(.+)~([0-9a-f-]{36})$/

/** People after the last one of the page before; a cursor that nobody gave out reads from the top. */
function later(after: string | null) {
  const [, name, id] = CURSOR.exec(after ?? '') ?? []
  return name && id ? { OR: [{ name: { gt: name } }, { name, id: { gt: id } }] } : {}
}

function readPeople(siteIds: string[], after: string | null) {
  const here = { siteId: { in: siteIds }, revokedAt: null }
  return db.person.findMany({
    where: { grants: { some: here }, ...later(after) },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    take: PAGE + 1,
    select: {
      id: true,
      name: true,
      email: true,
      phone: true,
      firm: true,
      version: true,
      passwordOnceUntil: true,
      disabledAt: true,
      pinHash: true,
      grants: {
        where: here,
        select: { id: true, role: true, siteId: true },
        orderBy: { grantedAt: 'asc' },
      },
      qualifications: { select: { kind: true, validFrom: true, validUntil: true } },
    },
  })
}

type FoundPerson = Awaited<ReturnType<typeof readPeople>>[number]

function toRow(
  { pinHash, passwordOnceUntil, grants, qualifications, ...person }: FoundPerson,
  known: Readonly<{ today: Date; nameOf: (siteId: string) => string; crewNames: string[] }>,
): PersonRow {
  const roles = grants.map((grant) => grant.role as Role) // a CHECK holds the column to these
  return {
    ...person,
    isNew: passwordOnceUntil !== null,
    isWithoutPin: pinHash === null && roles.some((role) => SIGNERS.has(role)),
    grants: grants.map((grant) => ({
      ...grant,
      role: grant.role as Role,
      siteName: known.nameOf(grant.siteId),
    })),
    holdings: holdingsOf(qualifications, roles, known.today),
    crewNames: known.crewNames,
  }
}

/** People with a role at the viewer's sites, what they may do there and until when; crews and outfits there. */
export async function listPeople(viewer: Viewer, after: string | null = null): Promise<PeoplePage> {
  const siteIds = sitesWhere(viewer, 'people:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'people:read' })
  const { timeZone, nowMs } = await getCompany(viewer)
  const today = new Date(`${localDay(new Date(nowMs), timeZone)}T00:00:00Z`)
  const soon = new Date(today.getTime() + SOON_MS)
  const [sites, found, crews, outfits, troubles] = await Promise.all([
    listMySites(viewer),
    readPeople(siteIds, after),
    listCrews(siteIds),
    listOutfits(siteIds),
    countQualificationTroubles(siteIds, { today, soon }),
  ])
  const nameOf = (id: string) => sites.find((site) => site.id === id)?.shortName ?? ''
  const shown = found.slice(0, PAGE)
  const last = found.length > PAGE ? shown.at(-1) : undefined
  return {
    timeZone,
    people: shown.map((person) =>
      toRow(person, {
        today,
        nameOf,
        crewNames: crews
          .filter((crew) => crew.members.some((member) => member.id === person.id))
          .map((crew) => crew.name),
      }),
    ),
    next: last ? `${last.name}~${last.id}` : null,
    crews,
    outfits,
    sites: sites.filter((site) => siteIds.includes(site.id)),
    troubles,
    mayWrite: sitesWhere(viewer, 'people:write').length > 0,
    mayAddOutfits: sitesWhere(viewer, 'outfit:write').length > 0,
  }
}
