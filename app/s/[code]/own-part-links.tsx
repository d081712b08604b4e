import { getTranslations } from 'next-intl/server'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import { getViewer } from '@/lib/auth/viewer'
import { getOwnParts } from '@/lib/data/permits/own-parts'
import type { OwnPart } from '@/lib/permit/own-part'

const WHERE: Readonly<Record<OwnPart, string>> = {
  agree: 'sign',
  acknowledge: 'sign',
  enter: 'sign',
  issue: 'sign',
  resume: 'resume',
  go_back: 'resume',
  final_watch: 'close',
  final_pai: 'close',
  brief: 'briefing',
}

/** Signed in on one's own phone: what waits for one's own PIN. Signed in nowhere: the way to it and back. */
export async function OwnPartLinks({
  permitId,
  code,
}: Readonly<{ permitId: string; code: string }>) {
  const t = await getTranslations('stopWork.own')
  const viewer = await getViewer()
  if (!viewer)
    return (
      <p className="px-4 pb-3">
        <a className="text-link" href={`/sign-in?next=${encodeURIComponent(`/s/${code}`)}`}>
          {t('signIn')}
        </a>
      </p>
    )
  const parts = await getOwnParts(viewer, permitId)
  if (parts === null) return null
  return (
    <section className="pb-3">
      <h2 className="type-section px-4 pb-1">{t('title', { name: viewer.name })}</h2>
      {parts.length === 0 ? (
        <p className="px-4 text-ink-2">{t('nothing')}</p>
      ) : (
        <ul className="plain-rows border-t border-rule">
          {parts.map((part) => (
            <PlainRow
              key={part}
              href={`/permits/${permitId}/${WHERE[part]}`}
              mark={<AnswerMark name="to-answer" />}
              title={t(`parts.${part}`)}
            />
          ))}
        </ul>
      )}
    </section>
  )
}
