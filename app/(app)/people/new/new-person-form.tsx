'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { ROLES } from '@/lib/access/access'
import type { OncePassword } from '@/lib/data/people-set-up'
import { OncePasswordSlip } from '../once-password-slip'
import { addPersonAction } from './actions'

type SiteChoice = Readonly<{ id: string; name: string }>

export function NewPersonForm({ sites }: Readonly<{ sites: readonly SiteChoice[] }>) {
  const t = useTranslations('people')
  const [given, setGiven] = useState<OncePassword | null>(null)
  return (
    <>
      {given ? <OncePasswordSlip given={given} /> : null}
      <KeptForm
        id="new-person"
        action={addPersonAction}
        refusedTitle={t('notAdded')}
        onDone={setGiven}
        className="flex flex-col gap-4"
      >
        <TextField name="name" label={t('name')} maxLength={80} />
        <TextField
          name="email"
          type="email"
          label={t('email')}
          note={t('emailNote')}
          maxLength={200}
        />
        <TextField name="phone" type="tel" label={t('phone')} maxLength={40} />
        <TextField name="firm" label={t('firm')} note={t('firmNote')} maxLength={80} />
        <SelectField
          name="siteId"
          label={t('site')}
          {...(sites.length > 1 ? { emptyLabel: t('choose') } : {})}
          options={sites.map((site) => ({ value: site.id, label: site.name }))}
        />
        <SelectField
          name="role"
          label={t('firstRole')}
          note={t('firstRoleNote')}
          emptyLabel={t('choose')}
          options={ROLES.map((role) => ({ value: role, label: t(`roles.${role}`) }))}
        />
        <SubmitButton>{t('addPerson')}</SubmitButton>
      </KeptForm>
    </>
  )
}
