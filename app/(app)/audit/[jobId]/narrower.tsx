import { useTranslations } from 'next-intl'
import type { JobAudit } from '@/lib/calc/audit-types'
import { shareLeftByReadings } from '@/lib/calc/next-reading'
import { normalInterval } from '@/lib/calc/stats'
import type { JobAuditDetail, OneMoreReading } from '@/lib/data/gas-audit'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatInterval } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { volumeOf, volumeUnit } from '../audit-view'
import { accountOf } from './job-account'

/** Readings that would narrow the use, named. */
const MOST_NAMED = 3
/** A reading that leaves more than this of the doubt is not worth the walk. */
const MOST_LEFT = 0.95
/** What is said as a half. */
const HALF = { from: 0.45, to: 0.55 } as const

/** Above this it is said in a word. */
const NEARLY_ALL = 0.985

type Props = Readonly<{ job: JobAuditDetail; audit: JobAudit; prefs: FormatPrefs }>

const percentOf = (share: number) => Math.round(share * 100)

/** What one more reading would have been worth, and what readings can't narrow. */
export function Narrower({ job, audit, prefs }: Props) {
  const t = useTranslations('audit.narrower')
  const known = job.narrowings[audit.gas === 'oxygen' ? 'oxygen' : 'fuel']
  const worth = known.filter((one) => one.share <= MOST_LEFT).slice(0, MOST_NAMED)
  const unit = volumeUnit(prefs.units)
  const at = (kg: number) => volumeOf(audit.gas, kg, prefs.units)
  const { usage } = audit
  const left = shareLeftByReadings(accountOf(job, audit))
  const intervalOf = ({ standardUncertaintyKg }: OneMoreReading) => {
    const { low90, high90 } = normalInterval({
      mean: usage.mean,
      standardUncertainty: standardUncertaintyKg,
      min: 0,
    })
    return formatInterval(at(low90), at(high90))
  }
  return (
    <section className="mt-4">
      <h3 className="text-[14px] font-[650]">{t('title', { gas: audit.gas })}</h3>
      <ul className="mt-1 type-small">
        {worth.map((one) => (
          <li key={one.id} className="py-0.5">
            {t('reading', {
              serial: one.serial,
              when: `${formatDay(one.atMs, prefs)} ${formatClock(one.atMs, prefs)}`,
              end: one.isFirst ? 'first' : 'last',
              how: one.share >= HALF.from && one.share <= HALF.to ? 'halved' : 'less',
              percent: percentOf(1 - one.share),
            })}{' '}
            <span className="text-ink-2">
              {t('instead', {
                after: intervalOf(one),
                before: formatInterval(at(usage.low90), at(usage.high90)),
                unit,
              })}
            </span>
          </li>
        ))}
        {worth.length === 0 ? <li className="py-0.5">{t('none')}</li> : null}
        <li className="py-0.5 text-ink-2">
          {t('left', {
            percent: percentOf(left),
            much: left > NEARLY_ALL ? 'all' : 'some',
          })}
        </li>
      </ul>
    </section>
  )
}
