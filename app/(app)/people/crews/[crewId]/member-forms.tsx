'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField } from '@/app/_components/form/text-field'
import type { CrewPage } from '@/lib/data/crews'
import { formatDate } from '@/lib/format/clock'
import { addCrewMemberAction, endCrewMemberAction } from '../actions'

/** Who is in the crew; each may leave it, and others may join. */
export function MemberForms({ crew }: Readonly<{ crew: CrewPage }>) {
  const t = useTranslations('people.crewForm')
  const router = useRouter()
  const shared = { refusedTitle: t('refused'), onDone: () => router.refresh() }
  return (
    <section>
      <h2 className="type-section mb-3">{t('members')}</h2>
      {crew.members.length === 0 ? <p className="text-ink-2">{t('nobody')}</p> : null}
      <ul className="mb-6">
        {crew.members.map((member) => (
          <li
            key={member.id}
            className="flex items-center justify-between gap-4 border-b border-rule py-2"
          >
            <span>
              {member.name}
              <span className="type-small text-ink-2">
                {' '}
                {t('since', { day: formatDate(member.from, { timeZone: 'UTC' }) })}
              </span>
            </span>
            <KeptForm id={`leave-${member.id}`} action={endCrewMemberAction} {...shared}>
              <input type="hidden" name="memberId" value={member.id} />
              <SubmitButton kind="plain">{t('leaves', { name: member.name })}</SubmitButton>
            </KeptForm>
          </li>
        ))}
      </ul>
      {crew.others.length > 0 ? (
        <KeptForm
          id={`join-${crew.id}`}
          action={addCrewMemberAction}
          {...shared}
          className="grid gap-3"
        >
          <input type="hidden" name="crewId" value={crew.id} />
          <SelectField
            name="personId"
            label={t('joins')}
            emptyLabel={t('choose')}
            options={crew.others.map((person) => ({ value: person.id, label: person.name }))}
          />
          <SubmitButton kind="plain">{t('join')}</SubmitButton>
        </KeptForm>
      ) : null}
    </section>
  )
}
