import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import type { FindingDetail } from '@/lib/data/findings/list'
import { formatDay } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { causeParams, shareWords, sizeWords } from '../finding-view'

type CausesProps = Readonly<{
  finding: FindingDetail
  prefs: FormatPrefs
  serialsOf: (cylinderIds: readonly string[]) => readonly string[]
}>

/** Every cause that fits the same facts, best first, and what would settle each. */
export function CausesTable({ finding, prefs, serialsOf }: CausesProps) {
  const t = useTranslations('findings')
  const equal = finding.causes.filter((one) => one.isEqualFirst).length
  const unit = prefs.units === 'us' ? 'ft³' : 'm³'
  return (
    <>
      <DataTable
        isWide
        caption={t('explains')}
        head={
          <>
            <Column>{t('ifThis')}</Column>
            <Column isFigure>{t('size', { unit })}</Column>
            <Column isFigure>{t('probability')}</Column>
          </>
        }
      >
        <tbody>
          {finding.causes.map((cause) => {
            const size = sizeWords(cause, finding.gas, prefs.units)
            const serials = serialsOf(cause.cylinderIds)
            return (
              <tr key={`${cause.kind} ${cause.cylinderIds.join(' ')} ${cause.fromMs}`}>
                <td>
                  <b>{t('cause', causeParams(cause, serials))}</b>
                  <span className="block text-ink-2">
                    <span className="type-ident">{serials.join(', ')}</span>{' '}
                    {formatDay(cause.fromMs, prefs)}
                    {cause.kind === 'leak_idle' || cause.kind === 'leak_in_use'
                      ? ` ${t('overDays', { days: daysOf(cause) })}`
                      : null}
                  </span>
                  <span className="block">
                    {t('settle')}: {t(`settledBy.${cause.settledBy}`)}
                  </span>
                </td>
                <td className="is-figure">
                  <b>{size.value}</b>
                  <span className="block text-ink-2">{size.interval}</span>
                </td>
                <td className="is-figure">
                  {shareWords(cause.probability)}
                  {cause.isEqualFirst && equal > 1 ? (
                    <b className="block">{t('equalFirst')}</b>
                  ) : null}
                </td>
              </tr>
            )
          })}
          <tr className="text-ink-2">
            <td colSpan={2}>{t('chanceRow')}</td>
            <td className="is-figure">{shareWords(finding.chance)}</td>
          </tr>
        </tbody>
      </DataTable>
      <p className="mt-2">
        {equal > 1 ? t.rich('equalSentence', { count: equal, b: (words) => <b>{words}</b> }) : null}{' '}
        {t('nothingCorrected')}
      </p>
    </>
  )
}

const DAY_MS = 86_400_000
const daysOf = ({ fromMs, toMs }: Readonly<{ fromMs: number; toMs: number }>) =>
  Math.max(1, Math.round((toMs - fromMs) / DAY_MS))
