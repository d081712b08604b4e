import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import {
  type Due,
  dueChecks,
  EXTINGUISHER_CHECKS,
  type ExtinguisherCheckKind,
} from '@/lib/permit/gear-checks'
import type {
  AddExtinguisherInput,
  CheckExtinguisherInput,
  RemoveExtinguisherInput,
} from '@/lib/schemas/outfit'
import { db } from '../client'
import { once } from '../client-keys'
import { nowIn } from '../people-guard'
import { inTransaction } from '../tx'

type Row = Readonly<{
  id: string
  number: string
  kind: string
  rating: string
  place: string
  monthly: string | null
  annual: string | null
  fault: string | null
  today: string
}>

export type ExtinguisherRow = Omit<Row, 'monthly' | 'annual' | 'today'> &
  Readonly<{ due: readonly Due<ExtinguisherCheckKind>[] }>

export type ExtinguisherPage = Readonly<{
  rows: readonly ExtinguisherRow[]
  can: Readonly<{ check: boolean; write: boolean }>
}>

/** The extinguishers of a site: kind, rating, where, when each look falls due, what the last one found. */
export async function listExtinguishers(viewer: Viewer, siteId: string): Promise<ExtinguisherPage> {
  assertCan(viewer, 'site:read', siteId)
  const rows = await db.$queryRaw<Row[]>`
    SELECT x.id, x.number, x.kind, x.rating, x.place,
      to_char(kerf_site_day(x.site_id, kerf_now()), 'YYYY-MM-DD') AS today,
      (SELECT to_char(kerf_site_day(x.site_id, max(c.at)), 'YYYY-MM-DD') FROM extinguisher_checks c WHERE c.extinguisher_id = x.id AND c.is_good) AS monthly,
      (SELECT to_char(kerf_site_day(x.site_id, max(c.at)), 'YYYY-MM-DD') FROM extinguisher_checks c WHERE c.extinguisher_id = x.id AND c.is_good AND c.kind = 'annual') AS annual,
      (SELECT CASE WHEN c.is_good THEN NULL ELSE c.note END FROM extinguisher_checks c WHERE c.extinguisher_id = x.id ORDER BY c.at DESC, c.id DESC LIMIT 1) AS fault
    FROM extinguishers x WHERE x.site_id = ${siteId}::uuid AND x.removed_at IS NULL ORDER BY x.number LIMIT 300`
  return {
    rows: rows.map(({ monthly, annual, today, ...row }) => ({
      ...row,
      due: dueChecks(EXTINGUISHER_CHECKS, {
        today,
        last: { ...(monthly ? { monthly } : {}), ...(annual ? { annual } : {}) },
      }),
    })),
    can: {
      check: can(viewer, 'extinguisher:check', siteId),
      write: can(viewer, 'outfit:write', siteId),
    },
  }
}

export async function addExtinguisher(
  viewer: Viewer,
  input: AddExtinguisherInput,
): Promise<{ id: string }> {
  assertCan(viewer, 'outfit:write', input.siteId)
  return inTransaction(viewer, 'extinguisher:add', (tx) =>
    once(tx, viewer, { key: input.key, action: 'extinguisher:add', input }, async () => {
      const { key: _key, ...data } = input
      const id = uuidv7()
      await tx.extinguisher.create({ select: { id: true }, data: { id, ...data } })
      return { id }
    }),
  )
}

async function siteOf(extinguisherId: string): Promise<string> {
  const found = await db.extinguisher.findUnique({
    where: { id: extinguisherId },
    select: { siteId: true },
  })
  if (!found) throw new AppError('NOT_FOUND')
  return found.siteId
}

export async function checkExtinguisher(
  viewer: Viewer,
  input: CheckExtinguisherInput,
): Promise<{ id: string }> {
  const siteId = await siteOf(input.extinguisherId)
  assertCan(viewer, 'extinguisher:check', siteId)
  return inTransaction(viewer, 'extinguisher:check', (tx) =>
    once(tx, viewer, { key: input.key, action: 'extinguisher:check', input }, async () => {
      const { extinguisherId, kind, note } = input
      const id = uuidv7()
      await tx.extinguisherCheck.create({
        select: { id: true },
        data: {
          ...{ id, extinguisherId, siteId, kind, note },
          isGood: input.isGood === 'yes',
          personId: viewer.personId,
        },
      })
      return { id }
    }),
  )
}

export async function removeExtinguisher(
  viewer: Viewer,
  input: RemoveExtinguisherInput,
): Promise<{ id: string }> {
  const { extinguisherId: id } = input
  assertCan(viewer, 'outfit:write', await siteOf(id))
  return inTransaction(viewer, 'extinguisher:remove', (tx) =>
    once(tx, viewer, { key: input.key, action: 'extinguisher:remove', input }, async () => {
      const { count } = await tx.extinguisher.updateMany({
        where: { id, removedAt: null },
        data: { removedAt: await nowIn(tx) },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id }
    }),
  )
}
