'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { submitSignIn } from './sign-in'

export interface DemoPerson {
  name: string
  email: string
  password: string
  pin: string
  role: string
  siteName: string | null
}

function DemoRow({ person, next }: Readonly<{ person: DemoPerson; next: string }>) {
  const t = useTranslations('auth')
  return (
    <li className="border-rule border-b py-3">
      <KeptForm
        id={`demo-${person.email}`}
        action={submitSignIn}
        onDone={() => window.location.assign(next)}
        className="grid grid-cols-[minmax(0,1fr)_auto] items-center gap-x-3"
      >
        <input type="hidden" name="email" value={person.email} />
        <input type="hidden" name="password" value={person.password} />
        <div>
          <p className="type-row-title">{t(`roles.${person.role}`)}</p>
          <p className="type-note text-ink-2">
            {person.siteName
              ? t('personAt', { name: person.name, site: person.siteName })
              : t('personEverywhere', { name: person.name })}
          </p>
        </div>
        <SubmitButton kind="plain" isWide={false}>
          {t('signInAs')} <span className="sr-only">{person.name}</span>
        </SubmitButton>
        <p className="type-small text-ink-2 col-span-2 mt-1 flex flex-wrap gap-x-4">
          <span>{person.email}</span>
          <span>
            {t('pin')} <span className="type-ident">{person.pin}</span>
          </span>
        </p>
      </KeptForm>
    </li>
  )
}

/** Says that nothing here is real, and lets anyone in as each role. */
export function DemoSignIns({
  people,
  next,
}: Readonly<{ people: readonly DemoPerson[]; next: string }>) {
  const t = useTranslations('auth')
  return (
    <section aria-labelledby="demo-title">
      <h2 id="demo-title" className="type-section border-ink border-b-2 pb-2">
        {t('demoTitle')}
      </h2>
      <p className="type-body mt-2">{t('demoText')}</p>
      <p className="type-note text-ink-2 mt-1">
        {t('demoPassword')} <span className="type-ident text-ink">{people[0]?.password}</span>
      </p>
      <ul className="mt-2">
        {people.map((person) => (
          <DemoRow key={person.email} person={person} next={next} />
        ))}
      </ul>
    </section>
  )
}
