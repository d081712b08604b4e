import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { CutListEstimate } from '@/lib/data/estimates'
import type { FormatPrefs } from '@/lib/format/prefs'
import { GasOnSite } from './gas-on-site'
import { TotalsGrid } from './totals-grid'

type Totals = Readonly<{ estimate: CutListEstimate; fuel: string; prefs: FormatPrefs }>

/** Oxygen, fuel and flame for the cuts still to do, and how far the gas on site goes. */
export function EstimateTotals({ estimate, fuel, prefs }: Totals) {
  const t = useTranslations('jobs')
  const { result } = estimate
  if (!result) return <NoEstimate estimate={estimate} />
  return (
    <section aria-label={t('totals')} className="border-b-2 border-ink pb-2">
      <TotalsGrid result={result} fuel={fuel} prefs={prefs} />
      <GasOnSite estimate={estimate} side="oxygen" gas="oxygen" prefs={prefs} />
      <GasOnSite estimate={estimate} side="fuel" gas={fuel} prefs={prefs} />
    </section>
  )
}

/** Why the list as a whole gives no number, and what would. An empty list is said below. */
function NoEstimate({ estimate }: Readonly<{ estimate: CutListEstimate }>) {
  const t = useTranslations('jobs')
  const refusal = estimate.refusals.find((one) => one.code !== 'NO_CUTS')
  if (!refusal) return null
  const gas = (code: string) => t(`gasMid.${code}` as 'gasMid.propane')
  const words =
    refusal.code === 'FUEL_NOT_IN_TABLE'
      ? t('fuelNotInTable', {
          gas: gas(String(refusal.value)),
          list: (refusal.limit?.allowed ?? []).map(gas).join(', '),
        })
      : t('noEstimate')
  return (
    <p className="flex items-start gap-2 border-b-2 border-ink px-4 py-2 font-semibold text-heat desk:px-0">
      <AnswerMark name="refused" />
      {words}
    </p>
  )
}
