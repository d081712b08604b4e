'use client'

import { useTranslations } from 'next-intl'
import { namedParams, type Say } from '@/app/_components/form/reason-words'
import type { Trial } from '@/lib/rules/trial'

/** What the layer would change on the published cases, before it takes effect. */
export function TrialWords({ trial }: Readonly<{ trial: Trial }>) {
  const t = useTranslations('rules.trial')
  const all = useTranslations()
  const say = all as unknown as Say
  const named = (what: string) => String(namedParams(say, { what }).what)
  const cases = (list: Trial['loosened']) =>
    list.map(({ probeId, what }) => (
      <li key={probeId}>
        {t('case', {
          name: say(`rules.probes.${probeId}` as never),
          what: what.map(named).join(', '),
        })}
      </li>
    ))
  return (
    <div className="grid gap-4">
      <p className="font-semibold">
        {t('changed', { changed: trial.changed.length, cases: trial.cases })}
      </p>
      {trial.loosened.length > 0 ? (
        <section className="text-heat">
          <h3 className="font-semibold">{t('loosened')}</h3>
          <ul className="type-note">{cases(trial.loosened)}</ul>
        </section>
      ) : null}
      {trial.lessThanNow.length > 0 ? (
        <section>
          <h3 className="font-semibold text-heat">{t('lessThanNow')}</h3>
          <ul className="type-note">{cases(trial.lessThanNow)}</ul>
        </section>
      ) : null}
      {trial.idle.length > 0 ? (
        <section>
          <h3 className="font-semibold">{t('idle')}</h3>
          <ul className="type-note text-ink-2">
            {trial.idle.map(({ name, layerId }) => (
              <li key={name}>
                {t('idleValue', namedParams(say, { name, layer: layerId }) as never)}
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <ul className="type-note text-ink-2">
        {trial.changed.map(({ probeId, decision, watchMin, added }) => (
          <li key={probeId} className="border-t border-rule py-1">
            <span className="block text-ink">{say(`rules.probes.${probeId}` as never)}</span>
            {decision.before === decision.after
              ? null
              : `${t('decision', {
                  before: say(`rules.decisions.${decision.before}` as never),
                  after: say(`rules.decisions.${decision.after}` as never),
                })} `}
            {watchMin.before === watchMin.after
              ? null
              : `${t('watch', { before: watchMin.before ?? 0, after: watchMin.after ?? 0 })} `}
            {added.map((id) => say(`precautions.${id}` as never)).join(' ')}
          </li>
        ))}
      </ul>
    </div>
  )
}
