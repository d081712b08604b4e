import { useTranslations } from 'next-intl'
import { formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import type { FourInstants as Instants } from '@/lib/permit/instants'

const ORDER = ['workEnd', 'watchEnd', 'monitoringEnd', 'permitEnd'] as const

/** Work, watch, monitoring and validity end by four clocks; none of them stands for another. */
export function FourInstants({
  instants,
  prefs,
}: Readonly<{ instants: Instants; prefs: FormatPrefs }>) {
  const t = useTranslations('record.instants')
  return (
    <section className="type-desk">
      <h2 className="border-b-2 border-ink pb-1 text-[13px] leading-[18px] font-[600] text-ink-2">
        {t('title')}
      </h2>
      <dl>
        {ORDER.map((name) => {
          const one = instants[name]
          return (
            <div key={name} className="grid grid-cols-[1fr_auto] gap-3 border-b border-rule py-1.5">
              <dt className="text-ink-2">{t(name)}</dt>
              <dd className={one.kind === 'passed' ? 'font-semibold' : ''}>
                {'at' in one ? t(one.kind, { time: formatDayClock(one.at, prefs) }) : t(one.kind)}
              </dd>
            </div>
          )
        })}
      </dl>
    </section>
  )
}
