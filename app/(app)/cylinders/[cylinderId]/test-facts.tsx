import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { FactList } from '@/app/_components/row'
import type { CylinderDetail } from '@/lib/data/cylinders'

/** Until when it may be filled, whether what is in it may be used, why, and where that stands. */
export function TestFacts({ cylinder }: Readonly<{ cylinder: CylinderDetail }>) {
  const t = useTranslations('cylinders.test')
  const { test } = cylinder
  if (!test)
    return (
      <section className="border-b border-rule px-4 py-3 desk:px-0">
        <h2 className="type-section">{t('title')}</h2>
        <p className="type-note text-ink-2">{t('unknownSpec')}</p>
      </section>
    )
  const facts = [
    { name: t('due'), value: test.due ?? t('never') },
    ...(test.shellDue ? [{ name: t('shell'), value: test.shellDue }] : []),
    ...(test.fillerLatest
      ? [
          {
            name: t('filler'),
            value: test.fillerEarliest
              ? t('fillerBetween', { from: test.fillerEarliest, to: test.fillerLatest })
              : test.fillerLatest,
          },
        ]
      : []),
    { name: t('fill'), value: t(test.mayFill ? 'may' : 'mayNot') },
    { name: t('use'), value: t(test.mayUseContents ? 'may' : 'mayNot') },
  ]
  const reasons = [...test.reasons, ...(test.isRecordLater ? (['record_later'] as const) : [])]
  return (
    <section className="border-b border-rule py-3" aria-label={t('title')}>
      <h2 className="type-section px-4 desk:px-0">{t('title')}</h2>
      <div className="desk:-mx-4">
        <FactList facts={facts} />
      </div>
      {reasons.map((reason) => (
        <p key={reason} className="trouble px-4 desk:px-0">
          <AnswerMark name="late" sizePx={14} />
          {t(`reason.${reason}`)}
        </p>
      ))}
      <p className="px-4 pt-1 type-small text-ink-2 desk:px-0">
        {t('sources', {
          list: [...new Set(test.sources.map((one) => one.citation))].join('; '),
        })}{' '}
        {test.sources.some((one) => !one.isRead) ? t('partlyMemory') : null}
      </p>
    </section>
  )
}
