import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { CutListEstimate } from '@/lib/data/estimates'
import type { FormatPrefs } from '@/lib/format/prefs'
import { GasOnSite } from './gas-on-site'
import { judgedIn } from './judged-in'
import { useRefusalWords } from './refusal-words'
import { TotalsGrid } from './totals-grid'

type Totals = Readonly<{ estimate: CutListEstimate; fuel: string; prefs: FormatPrefs }>

/** Oxygen, fuel and flame for the cuts still to do, and how far the gas on site goes. */
export function EstimateTotals({ estimate, fuel, prefs }: Totals) {
  const t = useTranslations('jobs')
  const { result } = estimate
  if (!result) return <NoEstimate estimate={estimate} prefs={prefs} />
  return (
    <section aria-label={t('totals')} className="border-b-2 border-ink pb-2">
      <TotalsGrid
        result={result}
        table={estimate.inputs.tipChart ?? null}
        crew={estimate.crew}
        judged={judgedIn(estimate.inputs.cuts, estimate.inputs.judgements)}
        fuel={fuel}
        prefs={prefs}
      />
      <GasOnSite estimate={estimate} side="oxygen" gas="oxygen" prefs={prefs} />
      <GasOnSite estimate={estimate} side="fuel" gas={fuel} prefs={prefs} />
    </section>
  )
}

/** Every reason why the list as a whole gives no number. An empty list is said below. */
function NoEstimate({
  estimate,
  prefs,
}: Readonly<{ estimate: CutListEstimate; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const say = useRefusalWords(prefs)
  const refusals = estimate.refusals.filter((one) => one.code !== 'NO_CUTS')
  if (refusals.length === 0) return null
  return (
    <div className="flex items-start gap-2 border-b-2 border-ink px-4 py-2 font-semibold text-heat desk:px-0">
      <AnswerMark name="refused" />
      <div>
        {refusals.map((refusal) => (
          <p key={`${refusal.code} ${refusal.field}`}>{say(refusal)}</p>
        ))}
        <p className="type-small text-ink-2">{t('noEstimate')}</p>
      </div>
    </div>
  )
}
