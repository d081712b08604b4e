import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { CylinderRow } from '@/lib/data/cylinders-shown'
import { formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'

type Where = Pick<CylinderRow, 'areaName' | 'outfitNumber' | 'side'>
type Due = Pick<CylinderRow, 'dueMonth' | 'isPastDue'>

/** Where it stands: on an outfit and which side, or in an area. */
export function WhereWords({ cylinder }: Readonly<{ cylinder: Where }>) {
  const t = useTranslations('cylinders')
  if (cylinder.outfitNumber && cylinder.side)
    return <>{t(`onOutfit.${cylinder.side}`, { number: cylinder.outfitNumber })}</>
  return <>{cylinder.areaName ?? t('onSitePlace')}</>
}

/** The month its test falls due, in heat with its mark when that is over. */
export function DueWords({ cylinder }: Readonly<{ cylinder: Due }>) {
  const t = useTranslations('cylinders')
  if (!cylinder.dueMonth) return <>{t('noDue')}</>
  const month = cylinder.dueMonth.toISOString().slice(0, 7)
  if (!cylinder.isPastDue) return <>{month}</>
  return (
    <span className="trouble">
      <AnswerMark name="late" sizePx={14} />
      {t('pastDue', { month })}
    </span>
  )
}

export function ReadWords({
  at,
  now,
  prefs,
}: Readonly<{ at: Date | null; now: Date; prefs: FormatPrefs }>) {
  const t = useTranslations('cylinders')
  return <>{at ? formatWhen(at, now, prefs) : t('notRead')}</>
}
