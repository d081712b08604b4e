import { useTranslations } from 'next-intl'
import { ContentsChart } from '@/app/_components/charts/contents-chart'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { PlainRow } from '@/app/_components/row'
import { niceStep, volumeOf, volumeUnit } from '@/app/(app)/audit/audit-view'
import { Z_90 } from '@/lib/calc/stats'
import type { EvidenceReading, FindingDetail } from '@/lib/data/findings/list'
import { formatClock, formatDate } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'

type EvidenceProps = Readonly<{ finding: FindingDetail; prefs: FormatPrefs; nowMs: number }>

/** Contents in the person's unit with their nine in ten; null where nobody read them. */
function contentsOf(reading: EvidenceReading, { gas }: FindingDetail, prefs: FormatPrefs) {
  if (reading.contentsKg === null) return null
  const half = Z_90 * (reading.contentsUKg ?? 0)
  const at = (kg: number) => volumeOf(gas, Math.max(0, kg), prefs.units)
  return {
    value: at(reading.contentsKg),
    low: at(reading.contentsKg - half),
    high: at(reading.contentsKg + half),
  }
}

export function Evidence({ finding, prefs, nowMs }: EvidenceProps) {
  const t = useTranslations('findings')
  const unit = volumeUnit(prefs.units)
  const serials = [...new Set(finding.readings.map((one) => one.serial))]
  const series = serials.map((name) => ({
    name,
    points: finding.readings.flatMap((reading) => {
      const contents = reading.serial === name ? contentsOf(reading, finding, prefs) : null
      return contents ? [{ ...contents, atMs: reading.at.getTime(), isNamed: reading.isNamed }] : []
    }),
  }))
  const drawn = series.filter((one) => one.points.length > 0)
  const top = Math.max(1, ...drawn.flatMap((one) => one.points.map((point) => point.high)))
  return (
    <section className="min-w-0">
      <h2 className="type-section mb-2 border-b-2 border-ink pb-1">{t('chart')}</h2>
      {drawn.length > 0 ? (
        <ContentsChart
          series={drawn}
          label={t('chartLabel', { serials: serials.join(', ') })}
          unit={unit}
          step={niceStep(top)}
          formatDay={(ms) => formatDate(ms, prefs)}
          nowMs={nowMs}
        />
      ) : null}
      <p className="mt-1 type-small text-ink-2">{t('chartKey')}</p>
      <h2 className="type-section mt-6 mb-1">{t('evidence')}</h2>
      <ul className="plain-rows max-desk:-mx-4 desk:hidden">
        {finding.readings.map((reading) => (
          <PhoneReading key={reading.eventId} {...{ reading, finding, prefs }} />
        ))}
      </ul>
      <div className="hidden desk:block">
        <DataTable
          isWide
          caption={t('evidenceCaption')}
          head={
            <>
              <Column>{t('cylinder')}</Column>
              <Column>{t('at')}</Column>
              <Column>{t('what')}</Column>
              <Column isFigure colSpan={2}>
                {t('holds', { unit })}
              </Column>
              <th scope="col" className="hidden desk:table-cell">
                {t('by')}
              </th>
            </>
          }
        >
          <tbody>
            {finding.readings.map((reading) => (
              <ReadingRow key={reading.eventId} {...{ reading, finding, prefs }} />
            ))}
          </tbody>
        </DataTable>
      </div>
    </section>
  )
}

type ReadingProps = Readonly<{
  reading: EvidenceReading
  finding: FindingDetail
  prefs: FormatPrefs
}>

/** On a phone: title, number, note. */
function PhoneReading({ reading, finding, prefs }: ReadingProps) {
  const t = useTranslations('findings')
  const contents = contentsOf(reading, finding, prefs)
  const decimals = prefs.units === 'us' ? 0 : 1
  return (
    <PlainRow
      title={t('dayClock', {
        day: formatDate(reading.at, prefs),
        time: formatClock(reading.at, prefs),
      })}
      note={
        <>
          {reading.serial}, {t('kind', { kind: reading.kind })}{' '}
          {observed(reading, prefs) || t('word')}, {reading.personName}
          {reading.isNamed ? <span className="is-trouble"> {t('isNamed')}</span> : null}
        </>
      }
      aside={
        contents
          ? `${formatNumber(contents.value, decimals)} (${formatInterval(contents.low, contents.high, decimals)})`
          : null
      }
    />
  )
}

function ReadingRow({ reading, finding, prefs }: ReadingProps) {
  const t = useTranslations('findings')
  const contents = contentsOf(reading, finding, prefs)
  const decimals = prefs.units === 'us' ? 0 : 1
  return (
    <tr>
      <td className="type-ident whitespace-nowrap">{reading.serial}</td>
      <td className="whitespace-nowrap">
        {t('dayClock', {
          day: formatDate(reading.at, prefs),
          time: formatClock(reading.at, prefs),
        })}
      </td>
      <td>
        {t('kind', { kind: reading.kind })}{' '}
        <span className="text-ink-2">{observed(reading, prefs) || t('word')}</span>
        {reading.isNamed ? <span className="is-trouble"> {t('isNamed')}</span> : null}
      </td>
      <FigureCells
        value={contents ? formatNumber(contents.value, decimals) : ''}
        interval={contents ? formatInterval(contents.low, contents.high, decimals) : ''}
        isTrouble={reading.isNamed}
      />
      <td className="hidden desk:table-cell">{reading.personName}</td>
    </tr>
  )
}

function observed({ gaugeKpa, weightKg }: EvidenceReading, prefs: FormatPrefs): string {
  if (weightKg !== null) return joinQuantity(formatQuantity('smallMass', weightKg, prefs))
  return gaugeKpa === null ? '' : joinQuantity(formatQuantity('gaugePressure', gaugeKpa, prefs))
}
