import { useTranslations } from 'next-intl'

const STEPS = [
  'screwsOut',
  'standClear',
  'oxygenSlow',
  'fuelOpen',
  'purge',
  'soap',
  'light',
] as const

/** The order of setting up. It defers to the maker's. */
export function SetUpOrder({ fuel }: Readonly<{ fuel: string }>) {
  const [t, card] = [useTranslations('jobs.setUp.step'), useTranslations('card')]
  return (
    <section>
      <h2>{card('orderTitle')}</h2>
      <ol className="card-order">
        {STEPS.map((step) => (
          <li key={step}>
            {step === 'fuelOpen' ? t(fuel === 'acetylene' ? 'acetyleneOpen' : 'fuelOpen') : t(step)}
          </li>
        ))}
      </ol>
    </section>
  )
}
