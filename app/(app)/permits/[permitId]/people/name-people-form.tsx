'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TurnedArrow } from '@/app/_components/marks/icons'
import type { NamedPeopleView } from '@/lib/data/permits/name-people'
import { namePeopleAction } from '../actions'
import { PermitFields } from '../permit-fields'

/** Who cuts and who watches, before anybody has been let to start. */
export function NamePeopleForm({ view }: Readonly<{ view: NamedPeopleView }>) {
  const t = useTranslations('permit.people')
  const { head, hands } = view
  const options = (kind: string) =>
    hands
      .filter((hand) => hand.qualifiedAs.includes(kind))
      .map(({ id, name }) => ({ value: id, label: name }))
  return (
    <KeptForm
      id={`name-people-${head.id}-${head.version}`}
      action={namePeopleAction}
      refusedTitle={t('refused')}
      className="grid gap-3"
    >
      <PermitFields permitId={head.id} version={head.version} />
      <SelectField
        name="operatorId"
        label={t('operator')}
        options={options('torch_operator')}
        defaultValue={view.operatorId}
      />
      <SelectField
        name="fireWatchId"
        label={t('fireWatch')}
        emptyLabel={t('nobody')}
        options={options('fire_watch')}
        defaultValue={view.fireWatchId ?? ''}
      />
      <TextField name="why" label={t('why')} maxLength={300} />
      {view.signed > 0 ? (
        <p className="consequence">
          <TurnedArrow />
          <span>{t('voids', { count: view.signed })}</span>
        </p>
      ) : null}
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
