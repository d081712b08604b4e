import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { CutRow as Cut } from '@/lib/data/cut-rows'
import type { JobDetail } from '@/lib/data/jobs'
import type { FormatPrefs } from '@/lib/format/prefs'
import { CutRow } from './cut-row'
import { cutTitle } from './cut-title'
import { RefusedCut } from './refused-cut'

/** Cuts that one page draws; the totals count them all. */
const PAGE = 100

type List = NonNullable<JobDetail['list']>

/** The list in its own order: done ones quiet, those with no number with their reason. */
export function CutRows({
  job,
  list,
  prefs,
  from,
}: Readonly<{ job: JobDetail; list: List; prefs: FormatPrefs; from: number }>) {
  return (
    <>
      <ol className="border-rule">
        {list.cuts.slice(from, from + PAGE).map((cut) => {
          if (cut.doneCount >= cut.count) return <DoneCut key={cut.id} cut={cut} prefs={prefs} />
          const refusals = list.estimate.refusedCuts[cut.id]
          if (refusals)
            return <RefusedCut key={cut.id} cut={cut} refusals={refusals} job={job} prefs={prefs} />
          return <CutRow key={cut.id} cut={cut} job={job} list={list} prefs={prefs} />
        })}
      </ol>
      <OtherCuts job={job} count={list.cuts.length} from={from} />
    </>
  )
}

/** The way to the cuts before and after these. */
function OtherCuts({
  job,
  count,
  from,
}: Readonly<{ job: JobDetail; count: number; from: number }>) {
  const t = useTranslations('sheet')
  if (count <= PAGE) return null
  const to = Math.min(count, from + PAGE)
  return (
    <p className="flex flex-wrap gap-x-6 px-4 py-3 type-note desk:px-0">
      <span>{t('cutsShown', { from: from + 1, to, count })}</span>
      {from > 0 ? (
        <Link
          className="text-link min-h-6"
          href={`/jobs/${job.id}?from=${Math.max(0, from - PAGE)}`}
        >
          {t('cutsBefore')}
        </Link>
      ) : null}
      {to < count ? (
        <Link className="text-link min-h-6" href={`/jobs/${job.id}?from=${to}`}>
          {t('cutsAfter')}
        </Link>
      ) : null}
    </p>
  )
}

function DoneCut({ cut, prefs }: Readonly<{ cut: Cut; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  return (
    <li className="flex items-center gap-3 border-b border-rule px-4 py-2 text-ink-2 desk:px-0">
      <span className="w-4 type-label">{cut.ordinal}</span>
      <span className="min-w-0 flex-1 type-row-title">{cutTitle(cut, t, prefs)}</span>
      <AnswerMark name="done" />
      <span className="type-note">{t('done')}</span>
    </li>
  )
}
