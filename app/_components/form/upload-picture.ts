import { v4 as newKey } from 'uuid'
import type { PicturePurpose } from '@/lib/schemas/picture'
import { PICTURE_LIMITS } from '@/lib/schemas/picture'

export type Uploaded =
  | Readonly<{ ok: true; pictureId: string; widthPx: number; heightPx: number }>
  | Readonly<{ ok: false; code: string; params: Readonly<Record<string, string | number>> }>

const LONGEST_PX: Readonly<Record<PicturePurpose, number>> = {
  plan: 2400,
  precaution: 1600,
  answer: 1600,
  paper: 2000,
}
const QUALITIES = [0.85, 0.7, 0.55, 0.4] as const

/** Drawn anew, so that only the picture is left: no place, no camera, and small enough to keep. */
async function redrawn(file: File, purpose: PicturePurpose): Promise<Blob | null> {
  const picture = await createImageBitmap(file).catch(() => null)
  if (!picture) return null
  const limit = PICTURE_LIMITS[purpose]
  for (const shrink of [1, 0.7, 0.5, 0.35]) {
    const by = Math.min(1, LONGEST_PX[purpose] / Math.max(picture.width, picture.height)) * shrink
    const canvas = document.createElement('canvas')
    canvas.width = Math.max(1, Math.round(picture.width * by))
    canvas.height = Math.max(1, Math.round(picture.height * by))
    const context = canvas.getContext('2d')
    if (!context) return null
    context.fillStyle = '#fff'
    context.fillRect(0, 0, canvas.width, canvas.height)
    context.drawImage(picture, 0, 0, canvas.width, canvas.height)
    for (const quality of QUALITIES) {
      const blob = await new Promise<Blob | null>((resolve) => {
        canvas.toBlob(resolve, 'image/jpeg', quality)
      })
      if (blob && blob.size <= limit) return blob
    }
  }
  return null
}

/** Sends a picture beside a permit. */
export async function uploadPicture(
  file: File,
  about: Readonly<{ permitId: string; purpose: PicturePurpose; about?: string; note?: string }>,
): Promise<Uploaded> {
  const blob = await redrawn(file, about.purpose)
  if (!blob) return { ok: false, code: 'NOT_A_PICTURE', params: {} }
  const said = new URLSearchParams({ ...about, key: newKey(), deviceAt: new Date().toISOString() })
  try {
    const response = await fetch(`/api/photos?${said}`, { method: 'POST', body: blob })
    const answer = (await response.json()) as {
      ok: boolean
      code?: string
      params?: Record<string, string | number>
      data?: { pictureId: string; widthPx: number; heightPx: number }
    }
    if (answer.ok && answer.data) return { ok: true, ...answer.data }
    return { ok: false, code: answer.code ?? 'BUSY', params: answer.params ?? {} }
  } catch {
    return { ok: false, code: 'BUSY', params: {} }
  }
}
