import { useTranslations } from 'next-intl'
import { AnswerMark, type AnswerMarkName } from '@/app/_components/marks/answer-mark'
import type { Holding } from '@/lib/data/people'
import { formatDate } from '@/lib/format/clock'

const MARKS: Readonly<Record<Holding['standing'], AnswerMarkName>> = {
  holds: 'done',
  soon: 'due',
  ended: 'late',
  not_begun: 'to-answer',
  missing: 'refused',
}

/** One qualification: until when it holds, or what is wrong with it. Days are calendar days. */
export function HoldingCell({ one }: Readonly<{ one: Holding | undefined }>) {
  const t = useTranslations('people')
  if (!one) return <td className="max-desk:hidden" />
  const isTrouble = one.standing !== 'holds'
  return (
    <td className={isTrouble ? 'is-trouble' : 'text-ink-2'}>
      <span className={`flex items-center gap-1.5 ${isTrouble ? 'font-[650]' : ''}`}>
        <AnswerMark name={MARKS[one.standing]} sizePx={14} />
        <span>
          <span className="desk:hidden">{t(`kinds.${one.kind}`)} </span>
          {t(`standing.${one.standing}`, {
            day: one.day ? formatDate(one.day, { timeZone: 'UTC' }) : '',
          })}
        </span>
      </span>
    </td>
  )
}
