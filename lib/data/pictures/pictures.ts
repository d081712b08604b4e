import 'server-only'
import { createHash } from 'node:crypto'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { PICTURE_LIMITS, type PictureInput, type PicturePurpose } from '@/lib/schemas/picture'
import { db } from '../client'
import { once } from '../client-keys'
import { assertOnPermit } from '../permits/context'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { readPictureFile } from './file'

/** Keeps a picture beside a permit; what it is is read from its content, never from its name. */
export async function keepPicture(
  viewer: Viewer,
  input: PictureInput,
  file: Buffer,
): Promise<{ pictureId: string; widthPx: number; heightPx: number }> {
  // The photo of a sheet goes with its lines: whoever may type them in may take it.
  const act = input.purpose === 'paper' ? 'permit:paper' : 'permit:clear'
  const { siteId } = await assertOnPermit(viewer, act, input.permitId)
  const role = roleThen(viewer, act, siteId)
  const picture = readPictureFile(file)
  if (!picture) throw new AppError('NOT_A_PICTURE')
  const { bytes, mime, widthPx, heightPx } = picture
  const limit = PICTURE_LIMITS[input.purpose]
  if (bytes.length > limit) throw new AppError('PICTURE_TOO_LARGE', { limitKb: limit / 1000 })
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  return inTransaction(viewer, 'picture:keep', (tx) =>
    once(
      tx,
      viewer,
      { key: input.key, action: 'picture:keep', input: { ...input, sha256 } },
      async () => {
        const pictureId = uuidv7()
        const { permitId, purpose, about, note, deviceAt } = input
        await tx.picture.create({
          select: { id: true },
          data: {
            ...{ id: pictureId, siteId, permitId, purpose, about, note, deviceAt },
            ...{ mime, widthPx, heightPx, byteCount: bytes.length, sha256 },
            personId: viewer.personId,
            roleThen: role,
          },
        })
        await tx.pictureBytes.create({
          select: { pictureId: true },
          data: { pictureId, bytes: new Uint8Array(bytes) },
        })
        return { pictureId, widthPx, heightPx }
      },
    ),
  )
}

/** A picture's bytes, for whoever may read its permit. */
export async function readPicture(
  viewer: Viewer,
  pictureId: string,
): Promise<Readonly<{ mime: string; bytes: Uint8Array<ArrayBuffer> }>> {
  const picture = await db.picture.findUnique({
    where: { id: pictureId },
    select: { siteId: true, mime: true, bytes: { select: { bytes: true } } },
  })
  if (!picture?.bytes) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'permit:read', picture.siteId)
  return { mime: picture.mime, bytes: picture.bytes.bytes }
}

export type PictureSeen = Readonly<{
  id: string
  purpose: PicturePurpose
  about: string | null
  note: string | null
  widthPx: number
  heightPx: number
  at: Date
  sha256: string
}>

/** What pictures a permit has, oldest first. */
export async function listPictures(permitId: string): Promise<readonly PictureSeen[]> {
  const rows = await db.picture.findMany({
    where: { permitId },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    select: {
      id: true,
      purpose: true,
      about: true,
      note: true,
      widthPx: true,
      heightPx: true,
      at: true,
      sha256: true,
    },
  })
  return rows.map((row) => ({ ...row, purpose: row.purpose as PicturePurpose })) // a CHECK holds it
}
