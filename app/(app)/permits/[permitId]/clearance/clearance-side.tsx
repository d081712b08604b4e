import { getTranslations } from 'next-intl/server'
import type { ClearanceView } from '@/lib/data/permits/clearance-view'
import { findRule } from '@/lib/rules/catalogue'
import { PhotoButton } from './photo-button'

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
            <PhotoButton
              permitId={view.head.id}
              purpose="precaution"
              about={id}
              what={p(id)}
              pictureIds={picturesOf(view, 'precaution', id)}
              canAdd={view.canAnswer}
            />
          </li>
        ))}
      </ul>
      <p className="mt-2 type-small text-ink-2">{t('caution')}</p>
    </section>
  )
}

/** Of one precaution or one answer, oldest first. */
export const picturesOf = (
  view: ClearanceView,
  purpose: 'answer' | 'precaution',
  about: string,
): string[] =>
  view.pictures
    .filter((picture) => picture.purpose === purpose && picture.about === about)
    .map(({ id }) => id)

const citations = (rules: readonly string[]) =>
  [
    ...new Set(rules.map((rule) => findRule(rule)?.citation).filter((one) => one !== undefined)),
  ].join('. ')
