import { useTranslations } from 'next-intl'
import type { AnswerMarkName } from '@/app/_components/marks/answer-mark'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import type { ClearanceItem } from '@/lib/data/permits/clearance-view'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import type { SurveyMark } from '@/lib/permit/survey'
import { windWords } from '../wind-units'

const MARKS: Readonly<Record<SurveyMark, AnswerMarkName>> = {
  done: 'done',
  not_here: 'not-here',
  protected: 'protected',
  blocked: 'refused',
}

/** An item that is not open: what was answered and when, or that it waits. Pressing it opens it. */
export function AnsweredRow({
  item,
  href,
  prefs,
}: Readonly<{ item: ClearanceItem; href: string | null; prefs: FormatPrefs }>) {
  const t = useTranslations('clearance.items')
  const p = useTranslations('permit.clearance')
  const title = t(`${item.id}.title`)
  if (!item.answer)
    return (
      <PlainRow
        {...(href ? { href } : {})}
        mark={<AnswerMark name="to-answer" />}
        title={title}
        aside={p('notSeen')}
      />
    )
  const { choice, at, mark, windMph } = item.answer
  const what = windMph === null ? item.answer.what : windWords(windMph, prefs.units)
  const said = t(`${item.id}.choices.${choice}` as 'stores.choices.none')
  const isTrouble = mark === 'blocked'
  return (
    <PlainRow
      {...(href ? { href } : {})}
      mark={
        <span className={isTrouble ? 'text-heat' : undefined}>
          <AnswerMark name={MARKS[mark]} />
        </span>
      }
      title={what ? p('titleWhat', { title, what }) : title}
      note={<span className={isTrouble ? 'font-semibold text-heat' : undefined}>{said}</span>}
      aside={formatClock(at, prefs)}
    />
  )
}
