import 'server-only'
import { PART_KINDS } from '@/lib/schemas/outfit'
import { db } from './client'

const MOST_CREWS = 50
const MOST_MEMBERS = 60
const MOST_OUTFITS = 100

export type CrewRow = Readonly<{
  id: string
  name: string
  /** Where it works now; null where the viewer has no business there. */
  siteName: string | null
  members: readonly Readonly<{ id: string; name: string }>[]
}>

/** Crews that work at these sites or have somebody of them. The caller has checked the sites. */
export async function listCrews(siteIds: string[]): Promise<CrewRow[]> {
  const ofHere = { grants: { some: { siteId: { in: siteIds }, revokedAt: null } } }
  const crews = await db.crew.findMany({
    where: {
      OR: [{ siteId: { in: siteIds } }, { members: { some: { toDate: null, person: ofHere } } }],
    },
    orderBy: { name: 'asc' },
    take: MOST_CREWS,
    select: {
      id: true,
      name: true,
      siteId: true,
      site: { select: { shortName: true } },
      members: {
        where: { toDate: null, person: ofHere },
        orderBy: { id: 'asc' },
        take: MOST_MEMBERS,
        select: { person: { select: { id: true, name: true } } },
      },
    },
  })
  return crews.map(({ site, siteId, members, ...crew }) => ({
    ...crew,
    siteName: siteIds.includes(siteId) ? site.shortName : null,
    members: members
      .map((member) => member.person)
      .sort((a, b) => a.name.localeCompare(b.name, 'en')),
  }))
}

export type PartRow = Readonly<{
  id: string
  kind: string
  name: string
  serial: string | null
  orificeM: number | null
  shopTip: string | null
  hoseGrade: string | null
  lengthM: number | null
  checkedOn: Date | null
}>

export type OutfitRow = Readonly<{
  id: string
  number: string
  siteId: string
  crewId: string | null
  fuelGasId: string
  isInService: boolean
  reason: string | null
  /** Torch to arrestors, in the order they are joined. */
  parts: readonly PartRow[]
}>

/** Torch to arrestors, as they are joined. */
const JOINED: readonly string[] = PART_KINDS

/** Outfits at these sites with their parts and state. The caller has checked the sites. */
export async function listOutfits(siteIds: string[]): Promise<OutfitRow[]> {
  const outfits = await db.outfit.findMany({
    where: { siteId: { in: siteIds } },
    orderBy: { number: 'asc' },
    take: MOST_OUTFITS,
    select: {
      id: true,
      number: true,
      siteId: true,
      crewId: true,
      fuelGasId: true,
      state: true,
      stateReason: true,
      parts: {
        where: { removedAt: null },
        orderBy: { id: 'asc' },
        select: {
          id: true,
          kind: true,
          name: true,
          serial: true,
          orificeM: true,
          shopTip: true,
          hoseGrade: true,
          lengthM: true,
          checkedOn: true,
        },
      },
    },
  })
  return outfits
    .map(({ state, stateReason, parts, ...outfit }) => ({
      ...outfit,
      isInService: state === 'in_service',
      reason: stateReason,
      parts: parts.toSorted((a, b) => JOINED.indexOf(a.kind) - JOINED.indexOf(b.kind)),
    }))
    .sort((a, b) => a.number.localeCompare(b.number, 'en', { numeric: true }))
}

/** Among people who may still sign in, kinds whose longest qualification has ended, or ends soon. */
export async function countQualificationTroubles(
  siteIds: readonly string[],
  { today, soon }: Readonly<{ today: Date; soon: Date }>,
): Promise<{ ended: number; soon: number }> {
  const [row] = await db.$queryRaw<{ ended: number; soon: number }[]>`
    SELECT (count(*) FILTER (WHERE until < ${today}::date))::int AS ended,
           (count(*) FILTER (WHERE until >= ${today}::date AND until < ${soon}::date))::int AS soon
    FROM (
      SELECT max(q.valid_until) AS until
      FROM qualifications q JOIN people p ON p.id = q.person_id
      WHERE p.disabled_at IS NULL AND EXISTS (
        SELECT 1 FROM grants g
        WHERE g.person_id = p.id AND g.site_id = ANY(${[...siteIds]}::uuid[]) AND g.revoked_at IS NULL)
      GROUP BY q.person_id, q.kind) AS longest`
  return row ?? { ended: 0, soon: 0 }
}
