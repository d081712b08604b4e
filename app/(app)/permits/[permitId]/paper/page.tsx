import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { getPaper } from '@/lib/data/permits/paper'
import { formatDayClock } from '@/lib/format/clock'
import { PhotoButton } from '../clearance/photo-button'
import { PermitFrame } from '../frame'
import { PaperForm } from './paper-form'

type PaperPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.paper'))('title') }
}

/** Where phones may not go the sheet is filled in by pen; the same day it is typed in here. */
export default async function PaperPage({ params }: PaperPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getPaper(viewer, permitId))
  const t = await getTranslations('permit.paper')
  const { head, sheets, entries } = view
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  const mayType = view.canType && view.wasIssued
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${permitId}`}
      sentence={t('sentence')}
    >
      <div className="px-4 py-3 desk:max-w-[560px] desk:px-8 [&_.refusal]:-mx-4">
        <p className="mb-2 text-ink-2 desk:hidden">{t('sentence')}</p>
        {view.wasIssued ? null : <p>{t('notIssued')}</p>}
        <PhotoButton
          permitId={permitId}
          purpose="paper"
          about="sheet"
          what={t('sheet')}
          pictureIds={sheets.map(({ id }) => id)}
          canAdd={mayType}
        />
        {mayType && sheets.length === 0 ? <p>{t('photoFirst')}</p> : null}
        {mayType && sheets.length > 0 ? (
          <PaperForm
            permitId={permitId}
            day={view.day}
            clock={view.clock}
            sheets={sheets.map(({ id, at }) => ({ value: id, label: formatDayClock(at, prefs) }))}
          />
        ) : null}
      </div>
      {entries.length > 0 ? (
        <ul className="plain-rows border-t border-rule desk:mx-8">
          {entries.map((entry) => (
            <PlainRow
              key={entry.id}
              href={`/api/photos/${entry.pictureId}`}
              mark={<AnswerMark name="protected" />}
              title={`${t(`kinds.${entry.kind}`)}: ${entry.words}`}
              note={t('fromPaper', { name: entry.writtenBy })}
              aside={formatDayClock(entry.writtenAt, prefs)}
            />
          ))}
        </ul>
      ) : null}
    </PermitFrame>
  )
}
