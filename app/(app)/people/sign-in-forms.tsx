'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import type { PersonRow } from '@/lib/data/people'
import type { OncePassword } from '@/lib/data/people-set-up'
import { changePersonAction, giveOncePasswordAction } from './actions'
import { OncePasswordSlip } from './once-password-slip'

/** Who the person is at the door: name, e-mail, and a password for one sign-in. */
export function SignInForms({ person }: Readonly<{ person: PersonRow }>) {
  return (
    <div className="grid gap-6">
      <NamesForm person={person} />
      <OnceForm personId={person.id} />
    </div>
  )
}

function NamesForm({ person }: Readonly<{ person: PersonRow }>) {
  const t = useTranslations('people')
  const router = useRouter()
  return (
    <KeptForm
      id={`names-${person.id}-${person.version}`}
      action={changePersonAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="personId" value={person.id} />
      <input type="hidden" name="version" value={person.version} />
      <TextField name="name" label={t('name')} defaultValue={person.name} maxLength={80} />
      <TextField
        name="email"
        type="email"
        label={t('email')}
        defaultValue={person.email}
        maxLength={200}
      />
      <TextField
        name="phone"
        type="tel"
        label={t('phone')}
        defaultValue={person.phone ?? ''}
        maxLength={40}
      />
      <TextField
        name="firm"
        label={t('firm')}
        note={t('firmNote')}
        defaultValue={person.firm ?? ''}
        maxLength={80}
      />
      <SubmitButton kind="plain">{t('saveNames')}</SubmitButton>
    </KeptForm>
  )
}

function OnceForm({ personId }: Readonly<{ personId: string }>) {
  const t = useTranslations('people')
  const [given, setGiven] = useState<OncePassword | null>(null)
  return (
    <div>
      <KeptForm
        id={`once-${personId}`}
        action={giveOncePasswordAction}
        refusedTitle={t('refused')}
        onDone={setGiven}
      >
        <input type="hidden" name="personId" value={personId} />
        <SubmitButton kind="plain">{t('giveOnce')}</SubmitButton>
      </KeptForm>
      <p className="type-small mt-2 text-ink-2">{t('giveOnceNote')}</p>
      {given ? <OncePasswordSlip given={given} /> : null}
    </div>
  )
}
