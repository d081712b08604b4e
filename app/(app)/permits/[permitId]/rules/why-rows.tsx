import { useTranslations } from 'next-intl'
import type { Say } from '@/app/_components/form/reason-words'
import { conditionWords } from '@/app/_components/rules/condition-words'
import { LayerName, SourceWords } from '@/app/_components/rules/source-words'
import { WayOut } from '@/app/_components/rules/way-out'
import type { Asking, PrecautionView, RefusalView } from '@/lib/data/permits/rules-view'
import type { FormatPrefs } from '@/lib/format/prefs'

/** Why each precaution is asked for: the conditions, the rules, and what would be rid of it. */
export function PrecautionRows({
  precautions,
  prefs,
}: Readonly<{ precautions: readonly PrecautionView[]; prefs: FormatPrefs }>) {
  const t = useTranslations()
  const say = t as unknown as Say
  return (
    <ul>
      {precautions.map((one) => (
        <li key={one.id} id={one.id} className="grid gap-1.5 border-b border-rule py-3">
          <h3 className="type-row-title">{t(`precautions.${one.id}`)}</h3>
          {one.protectionFactorAbove === null ? null : (
            <p className="font-semibold">
              {t('rules.protectionFactor', { above: one.protectionFactorAbove })}
            </p>
          )}
          {one.conditions.length > 0 ? (
            <p className="type-note desk:type-desk-note">
              {t('rules.because', {
                list: one.conditions.map((shown) => conditionWords(say, shown, prefs)).join('; '),
              })}
            </p>
          ) : null}
          <AskedBy layers={one.askedBy} />
          <WayOut ways={one.goesAwayBy} />
        </li>
      ))}
    </ul>
  )
}

/** What forbids the work, by which rules, and what would lift it. */
export function RefusalRows({ refusals }: Readonly<{ refusals: readonly RefusalView[] }>) {
  const t = useTranslations('permitReasons')
  return (
    <ul>
      {refusals.map((one) => (
        <li key={one.code} className="grid gap-1.5 border-b border-rule py-3">
          <h3 className="type-row-title text-heat">{t('rules_refuse', { why: one.code })}</h3>
          <AskedBy layers={one.askedBy} />
          <WayOut ways={one.goesAwayBy} />
        </li>
      ))}
    </ul>
  )
}

function AskedBy({ layers }: Readonly<{ layers: readonly Asking[] }>) {
  const t = useTranslations('rules')
  return (
    <ul className="type-note text-ink-2 desk:type-desk-note">
      {layers.map(({ layerId, label, sources }) => (
        <li key={layerId}>
          <b className="font-semibold text-ink">
            <LayerName id={layerId} label={label} />
          </b>
          {sources.length > 0 ? (
            sources.map((source) => <SourceWords key={source.citation} source={source} />)
          ) : (
            <span className="block">{t('houseDefault')}</span>
          )}
        </li>
      ))}
    </ul>
  )
}
