import { getTranslations } from 'next-intl/server'
import type { ClearanceView } from '@/lib/data/permits/clearance-view'
import { findRule } from '@/lib/rules/catalogue'

/** What the answers so far ask for: the watch, and each precaution with the rule behind it. */
export async function ClearanceSide({ view }: Readonly<{ view: ClearanceView }>) {
  const t = await getTranslations('permit.clearance')
  const p = await getTranslations('precautions')
  const r = await getTranslations('rules.watch')
  return (
    <section className="px-4 py-3 desk:px-0 desk:py-0">
      <h2 className="type-section border-b-2 border-ink pb-1">{t('asksFor')}</h2>
      <p className="border-b border-rule py-2 font-semibold desk:text-[14px]">
        {t('watchLine', {
          need: r(view.watchNeed),
          minutes: view.watchNeed === 'yes' || view.watchNeed === 'judgement' ? view.watchMin : 0,
        })}
      </p>
      <ul className="type-note desk:text-[14px]">
        {view.precautions.map(({ id, rules }) => (
          <li key={id} className="border-b border-rule py-1.5">
            {p(id)}
            <span className="block type-small text-ink-2 desk:text-[13px]">
              {citations(rules) || t('companyRule')}
            </span>
          </li>
        ))}
      </ul>
      <p className="mt-2 type-small text-ink-2">{t('caution')}</p>
    </section>
  )
}

const citations = (rules: readonly string[]) =>
  [
    ...new Set(rules.map((rule) => findRule(rule)?.citation).filter((one) => one !== undefined)),
  ].join('. ')
