'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { type FormEvent, useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import { type LocalRead, readLocalRuleset } from '@/lib/rules/local'
import { trialOf } from '@/lib/rules/trial'
import { type Layer, PRECAUTION_IDS } from '@/lib/rules/types'
import { saveLocalRulesetAction } from '../actions'
import { draftParameters } from '../draft'
import { ParameterBoxes } from '../parameter-boxes'
import { ProblemRows } from '../problem-rows'
import { TrialWords } from '../trial-words'

type RulesetFormProps = Readonly<{
  siteId: string
  today: string
  layers: readonly Layer[]
  known: readonly Layer[]
}>

const HEAD = ['id', 'label', 'citation', 'edition', 'provenance', 'effectiveFrom'] as const

function readDraft(form: FormData, known: readonly Layer[]): LocalRead {
  const head = Object.fromEntries(HEAD.map((name) => [name, form.get(name)]))
  const editions = known.filter((layer) => layer.id === `local:${String(head.id)}`)
  return readLocalRuleset(
    {
      ...head,
      effectiveTo: form.get('effectiveTo') || null,
      version: Math.max(0, ...editions.map((layer) => layer.version)) + 1,
      parameters: draftParameters(form),
      precautions: form.getAll('precautions'),
    },
    known,
  )
}

/** A local ruleset as it is typed, tried at once on the published cases beside the site's layers. */
export function RulesetForm({ siteId, today, layers, known }: RulesetFormProps) {
  const t = useTranslations('rules.form')
  const p = useTranslations('precautions')
  const router = useRouter()
  const [read, setRead] = useState<LocalRead | null>(null)
  const again = (event: FormEvent<HTMLDivElement>) => {
    const form = event.currentTarget.closest('form')
    if (form) setRead(readDraft(new FormData(form), known))
  }
  return (
    <KeptForm
      id={`ruleset-${siteId}`}
      action={saveLocalRulesetAction}
      refusedTitle={t('refused')}
      onDone={() => router.push(`/rules?site=${siteId}`)}
      className="grid gap-x-12 gap-y-6 desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]"
    >
      <div onInput={again} className="grid min-w-0 gap-6">
        <input type="hidden" name="siteId" value={siteId} />
        <Head today={today} />
        <section className="grid gap-3">
          <h2 className="type-section border-b-2 border-ink pb-1">{t('values')}</h2>
          <p className="type-note text-ink-2">{t('valuesNote')}</p>
          <ParameterBoxes />
        </section>
        <section>
          <h2 className="type-section border-b-2 border-ink pb-1">{t('precautions')}</h2>
          <div className="desk:columns-2">
            {PRECAUTION_IDS.map((id) => (
              <TickBox key={id} name="precautions" value={id}>
                {p(id)}
              </TickBox>
            ))}
          </div>
        </section>
      </div>
      <div className="grid min-w-0 content-start gap-4">
        <h2 className="type-section border-b-2 border-ink pb-1">{t('trial')}</h2>
        <div role="status" className="grid gap-4">
          {read === null ? <p className="text-ink-2">{t('trialNote')}</p> : null}
          {read?.ok ? <TrialWords trial={trialOf(read.layer, layers)} /> : null}
          {read && !read.ok ? <ProblemRows problems={read.problems} /> : null}
        </div>
        <SubmitButton>{t('save')}</SubmitButton>
        <p className="type-note text-ink-2">{t('saveNote')}</p>
      </div>
    </KeptForm>
  )
}

function Head({ today }: Readonly<{ today: string }>) {
  const t = useTranslations('rules.form')
  return (
    <section className="grid gap-3">
      <TextField name="label" label={t('label')} maxLength={120} />
      <TextField name="id" label={t('id')} note={t('idNote')} maxLength={40} isIdentity />
      <TextField name="citation" label={t('citation')} note={t('citationNote')} maxLength={200} />
      <TextField name="edition" label={t('edition')} note={t('editionNote')} maxLength={120} />
      <SelectField
        name="provenance"
        label={t('provenance')}
        emptyLabel={t('choose')}
        options={[
          { value: 'read', label: t('provenanceRead') },
          { value: 'memory', label: t('provenanceMemory') },
        ]}
      />
      <div className="grid grid-cols-2 gap-3">
        <TextField name="effectiveFrom" type="date" label={t('from')} defaultValue={today} />
        <TextField name="effectiveTo" type="date" label={t('to')} note={t('toNote')} />
      </div>
    </section>
  )
}
