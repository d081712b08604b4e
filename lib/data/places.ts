import 'server-only'
import { randomInt } from 'node:crypto'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { AreaFacts } from '@/lib/permit/survey'
import type { AddSiteInput, ChangeSiteInput, SaveAreaInput } from '@/lib/schemas/place'
import { db } from './client'
import { once } from './client-keys'
import { type Post, readPosts } from './permits/frozen'
import { inTransaction, type Tx } from './tx'

export type Place = Readonly<{
  id: string
  name: string
  shortName: string
  kind: string
  zone: string
  address: string
  emergencyWords: string
  shiftEnds: string
  shiftStarts: readonly string[]
  loneOperator: boolean
  paiMayWatch: boolean
  deliveryDays: readonly number[]
  version: number
}>

export type PlaceArea = Readonly<{
  id: string
  name: string
  areaClass: string
  viewId: string | null
  facts: AreaFacts
  posts: readonly Readonly<{ id: string; name: string; code?: string }>[]
  version: number
}>

/** A site and its areas, as an administrator of it may change them. */
export async function getPlace(
  viewer: Viewer,
  siteId: string,
): Promise<Readonly<{ site: Place; areas: readonly PlaceArea[] }>> {
  assertCan(viewer, 'site:write', siteId)
  const [site, areas] = await Promise.all([
    db.site.findUnique({
      where: { id: siteId },
      select: {
        id: true,
        name: true,
        shortName: true,
        kind: true,
        zone: true,
        address: true,
        emergencyWords: true,
        shiftEnds: true,
        shiftStarts: true,
        loneOperator: true,
        paiMayWatch: true,
        deliveryDays: true,
        version: true,
      },
    }),
    db.area.findMany({
      where: { siteId },
      orderBy: { name: 'asc' },
      select: {
        id: true,
        name: true,
        areaClass: true,
        viewId: true,
        facts: true,
        posts: true,
        version: true,
      },
    }),
  ])
  if (!site) throw new AppError('NOT_FOUND')
  return { site, areas: areas as unknown as PlaceArea[] } // lib/schemas/place wrote facts and posts
}

/** A site like another: under its rulesets, with the viewer as its first administrator. */
export async function addSite(viewer: Viewer, input: AddSiteInput): Promise<{ id: string }> {
  assertCan(viewer, 'site:write', input.likeSiteId)
  return inTransaction(viewer, 'site:add', (tx) =>
    once(tx, viewer, { key: input.key, action: 'site:add', input }, async () => {
      const { key: _key, likeSiteId, ...data } = input
      const id = uuidv7()
      await tx.site.create({ select: { id: true }, data: { id, ...data } })
      await tx.grant.create({
        select: { id: true },
        data: {
          id: uuidv7(),
          personId: viewer.personId,
          siteId: id,
          role: 'administrator',
          grantedBy: viewer.personId,
        },
      })
      const inForce = await tx.siteRuleset.findMany({
        where: { siteId: likeSiteId, toAt: null },
        select: { rulesetId: true },
        orderBy: { fromAt: 'asc' },
      })
      await tx.siteRuleset.createMany({
        data: inForce.map(({ rulesetId }) => ({
          id: uuidv7(),
          siteId: id,
          rulesetId,
          addedBy: viewer.personId,
        })),
      })
      return { id }
    }),
  )
}

export async function changeSite(viewer: Viewer, input: ChangeSiteInput): Promise<{ id: string }> {
  assertCan(viewer, 'site:write', input.siteId)
  return inTransaction(viewer, 'site:change', (tx) =>
    once(tx, viewer, { key: input.key, action: 'site:change', input }, async () => {
      const { key: _key, siteId, version, ...data } = input
      const { count } = await tx.site.updateMany({
        where: { id: siteId, version },
        data: { ...data, version: { increment: 1 } },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: siteId }
    }),
  )
}

/** The view that this area shares with another of its site; made where the other has none. */
async function viewWith(tx: Tx, siteId: string, otherId: string | null): Promise<string | null> {
  if (otherId === null) return null
  const other = await tx.area.findFirst({
    where: { id: otherId, siteId },
    select: { viewId: true },
  })
  if (!other) throw new AppError('NOT_FOUND')
  if (other.viewId) return other.viewId
  const viewId = uuidv7()
  await tx.area.update({
    where: { id: otherId },
    data: { viewId, version: { increment: 1 } },
    select: { id: true },
  })
  return viewId
}

function areaColumns(input: SaveAreaInput) {
  const { name, areaClass, posts, shipyardSpace, ...rest } = input
  const { indoors, enclosed, confinedSpace, sprinklers, detection, floor, wall, levelFt } = rest
  const facts = {
    indoors,
    enclosed,
    confinedSpace,
    sprinklers,
    detection,
    floor,
    wall,
    levelFt,
    ...(shipyardSpace === 'none' ? {} : { shipyardSpace }),
  }
  // A post is known by its name, as on paper.
  return { name, areaClass, facts, posts: posts.map((post) => ({ id: post, name: post })) }
}

/** Capitals and digits that nobody takes for each other; twelve of them are past guessing. */
const CODE_LETTERS = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789'
const newPostCode = () =>
  Array.from({ length: 3 }, () =>
    Array.from({ length: 4 }, () => CODE_LETTERS[randomInt(CODE_LETTERS.length)]).join(''),
  ).join('-')

/** A post that keeps its name keeps the code that hangs there. */
async function withCodes(tx: Tx, areaId: string | null, posts: readonly Post[]): Promise<Post[]> {
  const kept =
    areaId && (await tx.area.findUnique({ where: { id: areaId }, select: { posts: true } }))
  const codes = new Map(kept ? readPosts(kept.posts).map((post) => [post.name, post.code]) : [])
  return posts.map((post) => ({ ...post, code: codes.get(post.name) ?? newPostCode() }))
}

/** A new area, or another state of one; permits that are open keep what they were issued under. */
export async function saveArea(viewer: Viewer, input: SaveAreaInput): Promise<{ id: string }> {
  assertCan(viewer, 'site:write', input.siteId)
  return inTransaction(viewer, 'area:save', (tx) =>
    once(tx, viewer, { key: input.key, action: 'area:save', input }, async () => {
      const { siteId, areaId, version, seenWithId } = input
      const data = { ...areaColumns(input), viewId: await viewWith(tx, siteId, seenWithId) }
      const posts = input.codes ? await withCodes(tx, areaId, data.posts) : data.posts
      if (areaId === null) {
        const id = uuidv7()
        await tx.area.create({ select: { id: true }, data: { id, siteId, ...data, posts } })
        return { id }
      }
      if ((await tx.area.count({ where: { id: areaId, siteId } })) === 0)
        throw new AppError('NOT_FOUND')
      const { count } = await tx.area.updateMany({
        where: { id: areaId, siteId, version },
        data: { ...data, posts, version: { increment: 1 } },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: areaId }
    }),
  )
}
