import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { instantOfLocal, localClock } from '@/lib/format/local-time'
import type { PaperEntryInput, PaperKind } from '@/lib/schemas/paper'
import { db } from '../client'
import { once } from '../client-keys'
import { listPictures } from '../pictures/pictures'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { assertOnPermit, readPermitContext } from './context'
import { type PermitHead, toHead } from './head'

export type PaperView = Readonly<{
  head: PermitHead
  day: string
  clock: string
  wasIssued: boolean
  /** Photos of the sheet, newest first. */
  sheets: readonly Readonly<{ id: string; at: Date }>[]
  entries: readonly Readonly<{
    id: string
    kind: PaperKind
    writtenAt: Date
    writtenBy: string
    words: string
    pictureId: string
  }>[]
  canType: boolean
}>

const MOST = 200

/** What was typed in from the posted sheet, and the photos of it. */
export async function getPaper(viewer: Viewer, permitId: string): Promise<PaperView> {
  const context = await readPermitContext(viewer, permitId)
  const [pictures, rows] = await Promise.all([
    listPictures(permitId),
    db.paperEntry.findMany({
      where: { permitId },
      orderBy: [{ writtenAt: 'asc' }, { id: 'asc' }],
      take: MOST,
      select: {
        ...{ id: true, kind: true, writtenAt: true, writtenBy: true, words: true, pictureId: true },
      },
    }),
  ])
  return {
    head: toHead(context),
    day: context.day,
    clock: localClock(context.now, context.zone),
    wasIssued: context.facts.issuedAt !== null,
    sheets: pictures
      .filter((one) => one.purpose === 'paper')
      .map(({ id, at }) => ({ id, at }))
      .reverse(),
    entries: rows.map((row) => ({ ...row, kind: row.kind as PaperKind })), // a CHECK holds it to these
    canType: can(viewer, 'permit:paper', context.facts.siteId),
  }
}

/** Types in one line of the sheet. It is kept as what the paper says; nothing is counted from it. */
export async function typePaper(
  viewer: Viewer,
  input: PaperEntryInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:paper', input.permitId)
  const role = roleThen(viewer, 'permit:paper', siteId)
  const { permitId, pictureId, kind, writtenBy, words, day, clock, deviceAt } = input
  return inTransaction(viewer, 'permit:paper', (tx) =>
    once(tx, viewer, { key: input.key, action: 'permit:paper', input }, async () => {
      const { zone } = await tx.site.findUniqueOrThrow({
        where: { id: siteId },
        select: { zone: true },
      })
      await tx.paperEntry.create({
        select: { id: true },
        data: {
          ...{ id: uuidv7(), siteId, permitId, pictureId, kind, writtenBy, words, deviceAt },
          writtenAt: instantOfLocal({ day, clock, timeZone: zone }),
          personId: viewer.personId,
          roleThen: role,
        },
      })
      return { permitId }
    }),
  )
}
