import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import type { GasCode } from '@/lib/calc/gas-data'
import { normalInterval } from '@/lib/calc/stats'
import type { JobAuditDetail } from '@/lib/data/gas-audit'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { volumeOf, volumeUnit } from '../audit-view'

type Props = Readonly<{ job: JobAuditDetail; gas: GasCode; prefs: FormatPrefs }>

/** What left a cylinder while other jobs worked from it too, and each job's part of it. */
export function SharedUseTable({ job, gas, prefs }: Props) {
  const t = useTranslations('audit.shared')
  const a = useTranslations('audit')
  const shared = job.shared.filter((one) => one.gasId === gas)
  if (shared.length === 0) return null
  const at = (kg: number) => volumeOf(gas, kg, prefs.units)
  const when = (ms: number) =>
    a('dayTime', { day: formatDay(new Date(ms), prefs), time: formatClock(ms, prefs) })
  return (
    <>
      <h3 className="mt-4 text-[14px] font-[650]">{t('title')}</h3>
      <DataTable
        caption={t('caption')}
        head={
          <>
            <Column>{a('between')}</Column>
            <Column>{a('job')}</Column>
            <Column isFigure colSpan={2}>
              {t('part', { unit: volumeUnit(prefs.units) })}
            </Column>
          </>
        }
      >
        {shared.map((one) => (
          <tbody key={`${one.cylinderId} ${one.fromMs}`}>
            {one.shares.map((share, i) => {
              const { mean, low90, high90 } = normalInterval({
                mean: share.usageKg,
                standardUncertainty: share.standardUncertaintyKg,
                min: 0,
              })
              return (
                <tr key={share.jobId}>
                  {i === 0 ? (
                    <td rowSpan={one.shares.length}>
                      {t('interval', {
                        serial: one.serial,
                        from: when(one.fromMs),
                        to: when(one.toMs),
                        value: formatNumber(at(one.usageKg)),
                        unit: volumeUnit(prefs.units),
                      })}
                    </td>
                  ) : null}
                  <td className={share.jobId === job.id ? 'font-[650]' : ''}>
                    {one.numbers.get(share.jobId) ?? '–'}
                  </td>
                  <FigureCells
                    value={formatNumber(at(mean))}
                    interval={formatInterval(at(low90), at(high90))}
                  />
                </tr>
              )
            })}
          </tbody>
        ))}
      </DataTable>
      <p className="mt-1 type-small text-ink-2">{t('method')}</p>
    </>
  )
}
