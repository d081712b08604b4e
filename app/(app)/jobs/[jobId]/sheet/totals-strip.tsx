import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { CrewUsed } from '@/lib/data/crew-factors'
import type { FormatPrefs } from '@/lib/format/prefs'
import type { JudgedIn } from '../judged-in'
import { TotalsGrid } from '../totals-grid'
import type { ListTotals } from './sheet-totals'

type TotalsStripProps = Readonly<{
  totals: ListTotals
  table: Readonly<{ title: string; source: string }> | null
  crew: CrewUsed | null
  judged: readonly JudgedIn[]
  fuel: string
  prefs: FormatPrefs
  wrong: number
}>

/** What all rows take, worked out anew with every key. */
export function TotalsStrip({ totals, table, crew, judged, fuel, prefs, wrong }: TotalsStripProps) {
  const t = useTranslations('sheet')
  const { shown, counted, refused } = totals
  return (
    <section aria-label={t('totals')} className="sheet-totals">
      {shown ? (
        <TotalsGrid
          result={shown}
          table={table}
          crew={crew}
          judged={judged}
          fuel={fuel}
          prefs={prefs}
        />
      ) : (
        <p className="type-body px-4 py-2 desk:px-0">{t('noTotals')}</p>
      )}
      <p className="flex flex-wrap gap-x-4 px-4 pt-1 type-note text-ink-2 desk:px-0">
        <span>{t('counted', { count: counted })}</span>
        {wrong > 0 ? (
          <span className="trouble">
            <AnswerMark name="to-answer" />
            {t('toPutRight', { count: wrong })}
          </span>
        ) : null}
        {refused > 0 ? (
          <span className="trouble">
            <AnswerMark name="refused" />
            {t('notByTable', { count: refused })}
          </span>
        ) : null}
      </p>
    </section>
  )
}
