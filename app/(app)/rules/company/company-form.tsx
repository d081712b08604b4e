'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { type FormEvent, useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import {
  changedParameters,
  companyProblems,
  type LocalProblem,
  missingCompanyParameters,
} from '@/lib/rules/local'
import type { Layer, LayerParameters } from '@/lib/rules/types'
import { saveCompanyLayerAction } from '../actions'
import { draftParameters } from '../draft'
import { ParameterBoxes } from '../parameter-boxes'
import { ProblemRows } from '../problem-rows'

type CompanyFormProps = Readonly<{
  siteId: string
  citation: string
  values: LayerParameters
  floors: readonly Layer[]
}>

/** The company's own numbers; whatever is laxer than a text in force is said as it is typed. */
export function CompanyForm({ siteId, citation, values, floors }: CompanyFormProps) {
  const t = useTranslations('rules.company')
  const router = useRouter()
  const [problems, setProblems] = useState<readonly LocalProblem[]>([])
  const again = (event: FormEvent<HTMLDivElement>) => {
    const form = event.currentTarget.closest('form')
    if (!form) return
    const draft = draftParameters(new FormData(form))
    setProblems([
      ...missingCompanyParameters(draft),
      ...companyProblems(changedParameters(draft, values), floors),
    ])
  }
  return (
    <KeptForm
      id="company-layer"
      action={saveCompanyLayerAction}
      refusedTitle={t('refused')}
      onDone={() => router.push(`/rules?site=${siteId}`)}
      className="grid max-w-[960px] gap-6"
    >
      <div onInput={again} className="grid gap-4">
        <input type="hidden" name="siteId" value={siteId} />
        <TextField
          name="citation"
          label={t('citation')}
          note={t('citationNote')}
          defaultValue={citation}
          maxLength={200}
        />
        <ParameterBoxes values={values} without={['surveyMayEndWatch']} />
      </div>
      <div role="status">
        <ProblemRows problems={problems} />
      </div>
      <SubmitButton>{t('save')}</SubmitButton>
    </KeptForm>
  )
}
