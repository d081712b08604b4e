import { useTranslations } from 'next-intl'
import { TermsTable } from '@/app/_components/terms-table'
import type { GasCode } from '@/lib/calc/gas-data'
import type { JobAuditDetail } from '@/lib/data/gas-audit'
import type { AuditInterval } from '@/lib/data/gas-audit-intervals'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { volumeOf, volumeUnit } from '../audit-view'
import { observed } from './entry-words'

type TermsProps = Readonly<{
  job: JobAuditDetail
  row: AuditInterval
  gas: GasCode
  prefs: FormatPrefs
}>

/** The two readings of an interval, what they leave, and what the work logged then should take. */
export function IntervalTerms({ job, row, gas, prefs }: TermsProps) {
  const t = useTranslations('audit')
  const unit = volumeUnit(prefs.units)
  const at = (kg: number) => volumeOf(gas, kg, prefs.units)
  const { usage, estimate } = row.balance
  const ends = [row.fromMs, row.toMs].flatMap((ms) =>
    job.readings.filter((one) => one.cylinderId === row.cylinderId && one.atMs === ms).slice(0, 1),
  )
  return (
    <TermsTable
      title={t('leftIt', { serial: row.serial })}
      unit={unit}
      terms={ends.map((reading, index) => ({
        name: t('reading', {
          kind: reading.kind,
          time: t('dayTime', {
            day: formatDay(reading.atMs, prefs),
            time: formatClock(reading.atMs, prefs),
          }),
          who: reading.personName,
        }),
        inputs: t('observed', {
          what: observed(reading, prefs),
          u: formatNumber(at(reading.standardUncertaintyKg), 1),
          unit,
        }),
        value: t(index === 0 ? 'plain' : 'less', { value: formatNumber(at(reading.gasKg)) }),
      }))}
      total={{
        interval: formatInterval(at(usage.low90), at(usage.high90)),
        value: formatNumber(at(usage.mean)),
      }}
      source={
        <>
          {estimate
            ? t('loggedThen', {
                value: formatNumber(at(estimate.mean)),
                interval: formatInterval(at(estimate.low90), at(estimate.high90)),
                unit,
              })
            : t('nothingLogged')}{' '}
          {t('readingSource')}
        </>
      }
    />
  )
}
