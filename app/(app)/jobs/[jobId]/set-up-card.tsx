import { useTranslations } from 'next-intl'

const STEPS = [
  'screwsOut',
  'standClear',
  'oxygenSlow',
  'fuelOpen',
  'purge',
  'soap',
  'light',
  'backfire',
] as const
const CAUTIONS = ['maker', 'site', 'competent'] as const

/** The order of setting up. It defers to the maker's, and says so first. */
export function SetUpCard({ fuel }: Readonly<{ fuel: string }>) {
  const t = useTranslations('jobs.setUp')
  return (
    <details className="border-b border-rule px-4 py-3 desk:px-0">
      <summary className="type-section min-h-12 cursor-pointer list-none desk:min-h-6">
        <span className="border-b-2 border-dotted border-cobalt pb-1">{t('title')}</span>
      </summary>
      <p className="mt-2 type-body font-semibold">{t('caution.maker')}</p>
      <ol className="mt-2 list-decimal pl-6">
        {STEPS.map((step) => (
          <li key={step} className="type-body py-1">
            {step === 'fuelOpen'
              ? t(fuel === 'acetylene' ? 'step.acetyleneOpen' : 'step.fuelOpen')
              : t(`step.${step}`)}
          </li>
        ))}
      </ol>
      {CAUTIONS.filter((caution) => caution !== 'maker').map((caution) => (
        <p key={caution} className="mt-2 type-small text-ink-2">
          {t(`caution.${caution}`)}
        </p>
      ))}
    </details>
  )
}
