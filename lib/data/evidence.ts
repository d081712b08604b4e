import 'server-only'
import { createHash } from 'node:crypto'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { type EvidenceInput, LARGEST_EVIDENCE } from '@/lib/schemas/assignment'
import { db } from './client'
import { once } from './client-keys'
import { assertOnPerson } from './people-guard'
import { readPictureFile } from './pictures/file'
import { inTransaction } from './tx'

type Paper = Readonly<{ mime: string; bytes: Buffer }>

/** A scan as it is, by its first and last words; what it draws is the reader's business. */
function readPdf(file: Buffer): Paper | null {
  const isWhole =
    /^%PDF-[12]\.\d/.test(file.toString('latin1', 0, 8)) && file.subarray(-1024).includes('%%EOF')
  return isWhole ? { mime: 'application/pdf', bytes: file } : null
}

/** Keeps the paper of a qualification; what it is is read from its content, never from its name. */
export async function keepEvidence(
  viewer: Viewer,
  input: EvidenceInput,
  file: Buffer,
): Promise<{ fileId: string }> {
  const qualification = await db.qualification.findUnique({
    where: { id: input.qualificationId },
    select: { personId: true },
  })
  if (!qualification) throw new AppError('NOT_FOUND')
  await assertOnPerson(viewer, 'people:write', qualification.personId)
  const paper: Paper | null = readPictureFile(file) ?? readPdf(file)
  if (!paper) throw new AppError('NOT_A_PAPER')
  const { mime, bytes } = paper
  if (bytes.length > LARGEST_EVIDENCE)
    throw new AppError('PAPER_TOO_LARGE', { limitKb: LARGEST_EVIDENCE / 1000 })
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const claim = { key: input.key, action: 'evidence:keep', input: { ...input, sha256 } }
  return inTransaction(viewer, 'evidence:keep', (tx) =>
    once(tx, viewer, claim, async () => {
      const fileId = uuidv7()
      await tx.evidenceFile.create({
        select: { id: true },
        data: {
          id: fileId,
          qualificationId: input.qualificationId,
          mime,
          byteCount: bytes.length,
          sha256,
          recordedBy: viewer.personId,
        },
      })
      await tx.evidenceBytes.create({
        select: { fileId: true },
        data: { fileId, bytes: new Uint8Array(bytes) },
      })
      return { fileId }
    }),
  )
}

/** The paper, for whoever may read people at a site where its holder has a role. */
export async function readEvidence(
  viewer: Viewer,
  fileId: string,
): Promise<Readonly<{ mime: string; bytes: Uint8Array<ArrayBuffer> }>> {
  const file = await db.evidenceFile.findUnique({
    where: { id: fileId },
    select: {
      mime: true,
      bytes: { select: { bytes: true } },
      qualification: { select: { personId: true } },
    },
  })
  if (!file?.bytes) throw new AppError('NOT_FOUND')
  await assertOnPerson(viewer, 'people:read', file.qualification.personId)
  return { mime: file.mime, bytes: file.bytes.bytes }
}
