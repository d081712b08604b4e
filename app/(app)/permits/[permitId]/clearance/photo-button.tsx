'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { type ChangeEvent, useState } from 'react'
import { useReasonWords } from '@/app/_components/form/reason-words'
import { uploadPicture } from '@/app/_components/form/upload-picture'

type PhotoButtonProps = Readonly<{
  permitId: string
  purpose: 'answer' | 'precaution' | 'paper'
  /** The item's or the precaution's id; of a sheet of paper only that it is one. */
  about: string
  /** What it is of, in words. */
  what: string
  pictureIds: readonly string[]
  canAdd: boolean
}>

/** The photos of one answer or precaution, and one more: straight from the camera on a phone. */
export function PhotoButton(props: PhotoButtonProps) {
  const { permitId, purpose, about, what, pictureIds, canAdd } = props
  const t = useTranslations('permit.clearance')
  const words = useReasonWords()
  const router = useRouter()
  const [said, setSaid] = useState('')
  const send = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0]
    event.target.value = ''
    if (!file) return
    setSaid(t('photoSending'))
    const sent = await uploadPicture(file, { permitId, purpose, about })
    setSaid(sent.ok ? '' : words({ code: sent.code, params: sent.params }).what)
    if (sent.ok) router.refresh()
  }
  if (!canAdd && pictureIds.length === 0) return null
  return (
    <div className="flex flex-wrap items-center gap-2 py-1">
      {pictureIds.map((id) => (
        <a key={id} href={`/api/photos/${id}`} className="block border border-edge">
          {/* biome-ignore lint/performance/noImgElement: kept bytes behind a sign-in, nothing to optimise */}
          <img
            src={`/api/photos/${id}`}
            alt={t('photoOf', { what })}
            width={72}
            height={54}
            loading="lazy"
            className="h-[54px] w-[72px] object-cover"
          />
        </a>
      ))}
      {canAdd ? (
        <label className="text-link relative flex min-h-12 items-center has-focus-visible:outline-3 has-focus-visible:outline-offset-3 has-focus-visible:outline-cobalt desk:min-h-6">
          {t('photo')}
          <span className="sr-only">{what}</span>
          <input
            type="file"
            accept="image/jpeg,image/png"
            capture="environment"
            className="absolute inset-0 cursor-pointer opacity-0"
            onChange={send}
          />
        </label>
      ) : null}
      <span role="status" className="type-small text-ink-2">
        {said}
      </span>
    </div>
  )
}
