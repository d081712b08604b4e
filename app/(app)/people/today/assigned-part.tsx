'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { Assigned, PeopleToday } from '@/lib/data/people-today'
import { formatDate } from '@/lib/format/clock'
import { assignPeopleAction, cancelAssignmentAction } from './actions'

type PartProps = Readonly<{ siteId: string; page: PeopleToday }>

/** Who is put to this site today, and for which days more are. */
export function AssignedPart({ siteId, page }: PartProps) {
  const t = useTranslations('people.today')
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink pb-1">{t('assigned')}</h2>
      {page.assigned.length === 0 ? <p className="py-2 text-ink-2">{t('noneAssigned')}</p> : null}
      <AssignedList assigned={page.assigned} mayAssign={page.mayAssign} />
      {page.coming.length > 0 ? (
        <details className="fold mb-5">
          <summary className="font-[600]">{t('coming', { count: page.coming.length })}</summary>
          {page.coming.map(({ day, assigned }) => (
            <div key={day}>
              <h3 className="type-row-title pt-2">{dayWords(day)}</h3>
              <AssignedList assigned={assigned} mayAssign={page.mayAssign} day={dayWords(day)} />
            </div>
          ))}
        </details>
      ) : null}
      {page.mayAssign ? <AssignForm siteId={siteId} page={page} /> : null}
    </section>
  )
}

const dayWords = (day: string) => formatDate(new Date(`${day}T00:00:00Z`), { timeZone: 'UTC' })

type ListProps = Readonly<{
  assigned: readonly Assigned[]
  mayAssign: boolean
  /** Where it is not this one. */
  day?: string
}>

function AssignedList({ assigned, mayAssign, day }: ListProps) {
  const t = useTranslations('people.today')
  const router = useRouter()
  return (
    <ul className="mb-5">
      {assigned.map((one) => (
        <li
          key={one.id}
          className="flex items-center justify-between gap-4 border-b border-rule py-2"
        >
          <span>
            {one.name}
            {one.firm ? (
              <span className="text-ink-2"> {t('ofFirm', { firm: one.firm })}</span>
            ) : null}
          </span>
          {mayAssign ? (
            <KeptForm
              id={`unassign-${one.id}`}
              action={cancelAssignmentAction}
              refusedTitle={t('refused')}
              onDone={() => router.refresh()}
            >
              <input type="hidden" name="assignmentId" value={one.id} />
              <SubmitButton kind="plain">
                {day ? t('unassignOn', { name: one.name, day }) : t('unassign', { name: one.name })}
              </SubmitButton>
            </KeptForm>
          ) : null}
        </li>
      ))}
    </ul>
  )
}

function AssignForm({ siteId, page }: PartProps) {
  const t = useTranslations('people.today')
  const router = useRouter()
  const [added, setAdded] = useState<number | null>(null)
  return (
    <KeptForm
      id={`assign-${siteId}`}
      action={assignPeopleAction}
      refusedTitle={t('refused')}
      onDone={(done) => {
        setAdded(done.added)
        router.refresh()
      }}
      className="grid gap-3"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <SelectField
        name="who"
        label={t('who')}
        emptyLabel={t('choose')}
        options={[
          ...page.crews.map((crew) => ({
            value: `crew ${crew.id}`,
            label: t('wholeCrew', { name: crew.name }),
          })),
          ...page.people.map((person) => ({ value: `person ${person.id}`, label: person.name })),
        ]}
      />
      <div className="grid grid-cols-2 gap-3">
        <TextField name="from" type="date" label={t('from')} defaultValue={page.day} />
        <TextField name="to" type="date" label={t('to')} defaultValue={page.day} />
      </div>
      <SubmitButton kind="plain">{t('assign')}</SubmitButton>
      <p className="type-note" role="status">
        {added === null ? null : t('added', { count: added })}
      </p>
    </KeptForm>
  )
}
