'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, type SelectOption, TextField } from '@/app/_components/form/text-field'
import { ROLES } from '@/lib/access/access'
import { QUALIFICATION_KINDS } from '@/lib/schemas/people'
import {
  addQualificationAction,
  grantRoleAction,
  revokeGrantAction,
  setDisabledAction,
} from './actions'

type FormsProps = Readonly<{
  personId: string
  isDisabled: boolean
  grants: readonly Readonly<{ id: string; label: string }>[]
  sites: readonly SelectOption[]
}>

/** What an administrator may change of a person; each is an act of its own in the record. */
export function PersonForms({ personId, isDisabled, grants, sites }: FormsProps) {
  const t = useTranslations('people')
  const router = useRouter()
  const done = () => router.refresh()
  return (
    <div className="grid gap-6 desk:grid-cols-3">
      <KeptForm
        id={`grant-${personId}`}
        action={grantRoleAction}
        refusedTitle={t('refused')}
        onDone={done}
        className="grid content-start gap-3"
      >
        <input type="hidden" name="personId" value={personId} />
        <SelectField name="siteId" label={t('site')} options={sites} />
        <SelectField
          name="role"
          label={t('role')}
          options={ROLES.map((role) => ({ value: role, label: t(`roles.${role}`) }))}
        />
        <SubmitButton kind="plain">{t('grant')}</SubmitButton>
      </KeptForm>
      <KeptForm
        id={`qualify-${personId}`}
        action={addQualificationAction}
        refusedTitle={t('refused')}
        onDone={done}
        className="grid content-start gap-3"
      >
        <input type="hidden" name="personId" value={personId} />
        <SelectField
          name="kind"
          label={t('qualification')}
          options={QUALIFICATION_KINDS.map((kind) => ({ value: kind, label: t(`kinds.${kind}`) }))}
        />
        <TextField name="validFrom" type="date" label={t('from')} />
        <TextField name="validUntil" type="date" label={t('until')} />
        <TextField name="evidence" label={t('evidence')} maxLength={200} />
        <SubmitButton kind="plain">{t('qualify')}</SubmitButton>
      </KeptForm>
      <div className="grid content-start gap-3">
        {grants.map((grant) => (
          <KeptForm
            key={grant.id}
            id={`revoke-${grant.id}`}
            action={revokeGrantAction}
            refusedTitle={t('refused')}
            onDone={done}
          >
            <input type="hidden" name="grantId" value={grant.id} />
            <SubmitButton kind="plain">{t('revoke', { what: grant.label })}</SubmitButton>
          </KeptForm>
        ))}
        <KeptForm
          id={`disable-${personId}`}
          action={setDisabledAction}
          refusedTitle={t('refused')}
          onDone={done}
        >
          <input type="hidden" name="personId" value={personId} />
          <input type="hidden" name="disabled" value={isDisabled ? 'no' : 'yes'} />
          <SubmitButton kind="plain">{t(isDisabled ? 'enable' : 'disable')}</SubmitButton>
        </KeptForm>
      </div>
    </div>
  )
}
