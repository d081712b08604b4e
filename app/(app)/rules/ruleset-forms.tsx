'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField } from '@/app/_components/form/text-field'
import { leaveRulesetAction, takeOnRulesetAction } from './actions'

type Named = Readonly<{ id: string; label: string }>

/** Takes a known ruleset on, or leaves one: for permits that are issued from then on. */
export function RulesetForms({
  siteId,
  offered,
  taken,
}: Readonly<{ siteId: string; offered: readonly Named[]; taken: readonly Named[] }>) {
  const t = useTranslations('rules.site')
  const router = useRouter()
  const shared = { refusedTitle: t('refused'), onDone: () => router.refresh() }
  const options = (list: readonly Named[]) => list.map(({ id, label }) => ({ value: id, label }))
  return (
    <div className="grid gap-6">
      <KeptForm
        id={`take-on-${siteId}`}
        action={takeOnRulesetAction}
        className="grid gap-3"
        {...shared}
      >
        <input type="hidden" name="siteId" value={siteId} />
        <SelectField
          name="rulesetId"
          label={t('takeOn')}
          note={t('takeOnNote')}
          emptyLabel={t('choose')}
          options={options(offered)}
        />
        <SubmitButton kind="plain">{t('takeOnDo')}</SubmitButton>
      </KeptForm>
      <KeptForm
        id={`leave-${siteId}`}
        action={leaveRulesetAction}
        className="grid gap-3"
        {...shared}
      >
        <input type="hidden" name="siteId" value={siteId} />
        <SelectField
          name="rulesetId"
          label={t('leave')}
          note={t('leaveNote')}
          emptyLabel={t('choose')}
          options={options(taken)}
        />
        <SubmitButton kind="plain">{t('leaveDo')}</SubmitButton>
      </KeptForm>
    </div>
  )
}
