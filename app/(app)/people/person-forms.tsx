'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { ROLES } from '@/lib/access/access'
import type { PersonRow } from '@/lib/data/people'
import { QUALIFICATION_KINDS } from '@/lib/schemas/people'
import {
  addQualificationAction,
  grantRoleAction,
  revokeGrantAction,
  setDisabledAction,
} from './actions'
import { SignInForms } from './sign-in-forms'

type FormsProps = Readonly<{
  person: PersonRow
  sites: readonly Readonly<{ id: string; name: string }>[]
}>

/** What an administrator may change of a person; each is an act of its own in the record. */
export function PersonForms({ person, sites }: FormsProps) {
  const t = useTranslations('people')
  return (
    <div className="grid gap-x-12 gap-y-8 py-2 desk:grid-cols-2 wide:grid-cols-4">
      <div>
        <h3 className="type-section mb-3">{t('signIn')}</h3>
        <SignInForms person={person} />
      </div>
      <div>
        <h3 className="type-section mb-3">{t('giveRole')}</h3>
        <GrantForm personId={person.id} sites={sites} />
      </div>
      <div>
        <h3 className="type-section mb-3">{t('addQualification')}</h3>
        <QualifyForm personId={person.id} />
        <p className="mt-3">
          <Link className="text-link inline-block py-2" href={`/people/${person.id}`}>
            {t('papers.link')}
          </Link>
        </p>
      </div>
      <div>
        <h3 className="type-section mb-3">{t('takeBack')}</h3>
        <RemoveForms person={person} />
      </div>
    </div>
  )
}

function GrantForm({
  personId,
  sites,
}: Readonly<{ personId: string } & Pick<FormsProps, 'sites'>>) {
  const t = useTranslations('people')
  const router = useRouter()
  return (
    <KeptForm
      id={`grant-${personId}`}
      action={grantRoleAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="personId" value={personId} />
      <SelectField
        name="siteId"
        label={t('site')}
        {...(sites.length > 1 ? { emptyLabel: t('choose') } : {})}
        options={sites.map((site) => ({ value: site.id, label: site.name }))}
      />
      <SelectField
        name="role"
        label={t('role')}
        emptyLabel={t('choose')}
        options={ROLES.map((role) => ({ value: role, label: t(`roles.${role}`) }))}
      />
      <SubmitButton kind="plain">{t('grant')}</SubmitButton>
    </KeptForm>
  )
}

function QualifyForm({ personId }: Readonly<{ personId: string }>) {
  const t = useTranslations('people')
  const router = useRouter()
  return (
    <KeptForm
      id={`qualify-${personId}`}
      action={addQualificationAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="personId" value={personId} />
      <SelectField
        name="kind"
        label={t('qualification')}
        emptyLabel={t('choose')}
        options={QUALIFICATION_KINDS.map((kind) => ({ value: kind, label: t(`kinds.${kind}`) }))}
      />
      <div className="grid grid-cols-2 gap-3">
        <TextField name="validFrom" type="date" label={t('from')} />
        <TextField name="validUntil" type="date" label={t('until')} />
      </div>
      <TextField name="issuer" label={t('issuer')} note={t('issuerNote')} maxLength={120} />
      <TextField name="evidence" label={t('evidence')} note={t('evidenceNote')} maxLength={200} />
      <SubmitButton kind="plain">{t('qualify')}</SubmitButton>
    </KeptForm>
  )
}

function RemoveForms({ person }: Readonly<{ person: PersonRow }>) {
  const t = useTranslations('people')
  const router = useRouter()
  const shared = { refusedTitle: t('refused'), onDone: () => router.refresh() }
  return (
    <div className="grid gap-3">
      {person.grants.map((grant) => (
        <KeptForm key={grant.id} id={`revoke-${grant.id}`} action={revokeGrantAction} {...shared}>
          <input type="hidden" name="grantId" value={grant.id} />
          <SubmitButton kind="plain">
            {t('revoke', { role: t(`roles.${grant.role}`), site: grant.siteName })}
          </SubmitButton>
        </KeptForm>
      ))}
      <KeptForm id={`disable-${person.id}`} action={setDisabledAction} {...shared}>
        <input type="hidden" name="personId" value={person.id} />
        <input type="hidden" name="disabled" value={person.disabledAt ? 'no' : 'yes'} />
        <SubmitButton kind="plain">{t(person.disabledAt ? 'enable' : 'disable')}</SubmitButton>
      </KeptForm>
      <p className="type-small text-ink-2">{t('sessionsEnd')}</p>
    </div>
  )
}
