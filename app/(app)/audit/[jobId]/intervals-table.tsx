import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { Opening, OpeningNumber, OpeningTableRow } from '@/app/_components/opening'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { JobAuditDetail } from '@/lib/data/gas-audit'
import type { AuditedReading } from '@/lib/data/gas-audit-rows'
import { formatWhen } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, formatTemperature, joinQuantity } from '@/lib/format/quantity'
import { type Units, volumeOf, volumeUnit } from '../audit-view'

const Z_90 = 1.6449

type Props = Readonly<{ job: JobAuditDetail; audit: JobAudit; prefs: FormatPrefs; now: Date }>

/** What was used between each two readings, and the readings that say so. */
export function IntervalsTable({ job, audit, prefs, now }: Props) {
  const t = useTranslations('audit')
  const unit = volumeUnit(prefs.units)
  const rows = audit.spans.flatMap((span) =>
    span.intervals.map((interval) => ({ ...interval, cylinderId: span.cylinderId })),
  )
  rows.sort((a, b) => a.fromMs - b.fromMs)
  return (
    <DataTable
      caption={t('intervalCaption')}
      head={
        <>
          <Column colSpan={2}>{t('between')}</Column>
          <Column>{t('cylinder')}</Column>
          <Column isFigure>{t('logged')}</Column>
          <Column isFigure colSpan={2}>
            {t('used', { unit })}
          </Column>
        </>
      }
    >
      <tbody>
        {rows.map((row) => (
          <Opening key={`${row.cylinderId}-${row.fromMs}`}>
            <tr>
              <td className="whitespace-nowrap">{formatWhen(new Date(row.fromMs), now, prefs)}</td>
              <td className="whitespace-nowrap text-ink-2">
                {t('to', { time: formatWhen(new Date(row.toMs), now, prefs) })}
              </td>
              <td className="type-ident">{serialOf(job, row.cylinderId)}</td>
              <td className="is-figure">
                {t('pieces', { count: piecesIn(job, row.fromMs, row.toMs) })}
              </td>
              <FigureCells
                value={
                  <OpeningNumber spoken={t('spokenUse', { value: shown(row.usageKg), unit })}>
                    {shown(row.usageKg)}
                  </OpeningNumber>
                }
                interval={formatInterval(
                  volume(Math.max(0, row.usageKg - Z_90 * row.standardUncertaintyKg)),
                  volume(row.usageKg + Z_90 * row.standardUncertaintyKg),
                )}
              />
            </tr>
            <OpeningTableRow columns={6}>
              <ul className="grid gap-1">
                {readingsOf(job, row.cylinderId, [row.fromMs, row.toMs]).map((reading) => (
                  <li key={reading.eventId}>
                    {t('reading', {
                      kind: reading.kind,
                      time: formatWhen(new Date(reading.atMs), now, prefs),
                      who: reading.personName,
                      what: observed(reading, prefs),
                      amount: shown(reading.gasKg),
                      unit,
                      u: formatNumber(volume(reading.standardUncertaintyKg), 1),
                    })}
                  </li>
                ))}
              </ul>
              <p className="mt-2 type-small text-ink-2">{t('readingSource')}</p>
            </OpeningTableRow>
          </Opening>
        ))}
      </tbody>
    </DataTable>
  )

  function volume(kg: number) {
    return volumeOf(audit.gas, kg, prefs.units as Units)
  }
  function shown(kg: number) {
    return formatNumber(volume(kg))
  }
}

const serialOf = (job: JobAuditDetail, cylinderId: string) =>
  job.readings.find((reading) => reading.cylinderId === cylinderId)?.serial ?? ''

const piecesIn = (job: JobAuditDetail, fromMs: number, toMs: number) =>
  job.logs
    .filter((log) => log.to.getTime() > fromMs && log.to.getTime() <= toMs)
    .reduce((sum, log) => sum + log.pieces, 0)

const readingsOf = (job: JobAuditDetail, cylinderId: string, at: readonly number[]) =>
  job.readings.filter((reading) => reading.cylinderId === cylinderId && at.includes(reading.atMs))

/** What the person saw: a gauge at a temperature, or a weight. */
function observed(reading: AuditedReading, prefs: FormatPrefs): string {
  if (reading.weightKg !== null)
    return joinQuantity(formatQuantity('mass', reading.weightKg, prefs))
  if (reading.gaugeKpa === null) return ''
  const pressure = joinQuantity(formatQuantity('gaugePressure', reading.gaugeKpa, prefs))
  return reading.temperatureK === null
    ? pressure
    : `${pressure}, ${joinQuantity(formatTemperature(reading.temperatureK, prefs))}`
}
