import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { Refusal } from '@/lib/calc/refusal'
import type { CutRow } from '@/lib/data/cut-rows'
import { pieceOf } from '@/lib/data/estimates'
import type { JobDetail } from '@/lib/data/jobs'
import type { FormatPrefs } from '@/lib/format/prefs'
import { PieceWords } from '../piece-words'
import { cutTitle } from './cut-title'
import { useRefusalWords } from './refusal-words'

type RefusedCutProps = Readonly<{
  cut: CutRow
  refusals: readonly Refusal[]
  job: JobDetail
  prefs: FormatPrefs
}>

/** A cut that gives no number: not by this table, why, and what instead. It is never left out in silence. */
export function RefusedCut({ cut, refusals, job, prefs }: RefusedCutProps) {
  const t = useTranslations('jobs')
  const say = useRefusalWords(prefs)
  return (
    <li className="flex items-start gap-3 border-b border-rule px-4 py-2 desk:px-0">
      <span className="trouble w-4 pt-1">
        <AnswerMark name="refused" />
      </span>
      <div className="min-w-0 flex-1">
        <div className="flex flex-wrap items-end justify-between gap-x-3">
          <h2 className="type-row-title">{cutTitle(cut, t, prefs)}</h2>
          <span className="type-note text-ink-2">
            <PieceWords piece={pieceOf(cut)} prefs={prefs} />
          </span>
        </div>
        {refusals.map((refusal) => (
          <p key={`${refusal.code}-${refusal.field}`} className="type-note text-ink-2">
            <b className="font-semibold text-heat">{t('refused.heading')}</b> {say(refusal)}
          </p>
        ))}
        {job.mayWrite ? (
          <Link
            className="text-link inline-block min-h-6"
            href={`/jobs/${job.id}/cut?cut=${cut.id}`}
          >
            {t('changeCut')}
          </Link>
        ) : null}
      </div>
    </li>
  )
}
