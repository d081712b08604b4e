import { useTranslations } from 'next-intl'
import { PlainRow } from '@/app/_components/row'
import type { KeptEstimate } from '@/lib/data/estimates-kept'
import { formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { gasAmount, withUnit } from '../figures'

/** What was kept, newest first. */
export function KeptEstimates({
  kept,
  prefs,
}: Readonly<{ kept: readonly KeptEstimate[]; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  if (kept.length === 0) return null
  return (
    <section className="pt-3">
      <h2 className="type-section px-4 desk:px-0">{t('keptTitle')}</h2>
      <ul className="plain-rows">
        {kept.map((estimate) => (
          <PlainRow
            key={estimate.id}
            title={t('keptRow', {
              oxygen: withUnit(gasAmount('oxygen', estimate.oxygenKg, prefs)),
              fuel: withUnit(gasAmount(estimate.fuel, estimate.fuelKg, prefs)),
              gas: t(`gasMid.${estimate.fuel}` as 'gasMid.propane'),
            })}
            note={t(estimate.reason === 'issued' ? 'keptIssued' : 'keptBy', {
              name: estimate.keptByName,
              version: estimate.calcVersion,
            })}
            aside={formatDayClock(estimate.keptAt, prefs)}
          />
        ))}
      </ul>
    </section>
  )
}
