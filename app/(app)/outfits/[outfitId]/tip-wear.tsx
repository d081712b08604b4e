'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { TipRow } from '@/lib/data/gear/tip-wear'
import { formatDate } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'
import { TIP_FINDINGS, TIP_LOOK_HOURS } from '@/lib/permit/gear-checks'
import { tipCheckAction } from '../actions'

type WearProps = Readonly<{ tips: readonly TipRow[]; prefs: FormatPrefs; mayInspect: boolean }>

/** Each tip with the hours that its outfit cut, when somebody last looked at it, and what is next. */
export function TipWear({ tips, prefs, mayInspect }: WearProps) {
  const t = useTranslations('outfits.wear')
  if (tips.length === 0) return null
  return (
    <section className="mt-6">
      <h2 className="type-section border-b-2 border-ink pb-1">{t('title')}</h2>
      <ul>
        {tips.map((tip) => (
          <li key={tip.id} className="border-b border-rule py-2">
            <p className="flex items-center gap-2">
              <AnswerMark name={tip.standing === 'good' ? 'done' : 'due'} sizePx={14} />
              <span className="font-[600]">
                {tip.name}
                {tip.orificeM === null
                  ? null
                  : `, ${joinQuantity(formatQuantity('orifice', tip.orificeM, prefs))}`}
              </span>
            </p>
            <p className="type-note text-ink-2">
              {t('hours', { on: Math.round(tip.hoursOn), since: Math.round(tip.hoursSinceLook) })}{' '}
              {tip.lastAt
                ? t('looked', {
                    finding: t(`findings.${tip.lastFinding as 'good'}`),
                    day: formatDate(tip.lastAt, prefs),
                  })
                : t('never')}{' '}
              {tip.standing === 'good' ? null : <b>{t(`standing.${tip.standing}`)}</b>}
            </p>
            {mayInspect ? <CheckTip tip={tip} /> : null}
          </li>
        ))}
      </ul>
      <p className="type-small pt-2 text-ink-2">{t('how', { hours: TIP_LOOK_HOURS })}</p>
    </section>
  )
}

function CheckTip({ tip }: Readonly<{ tip: TipRow }>) {
  const t = useTranslations('outfits.wear')
  const router = useRouter()
  return (
    <details className="fold">
      <summary>{t('look', { name: tip.name })}</summary>
      <KeptForm
        id={`tip-${tip.id}`}
        action={tipCheckAction}
        refusedTitle={t('refused')}
        onDone={() => router.refresh()}
        className="grid gap-3 pt-2 desk:max-w-[420px]"
      >
        <input type="hidden" name="partId" value={tip.id} />
        <SelectField
          name="finding"
          label={t('found')}
          emptyLabel={t('choose')}
          options={TIP_FINDINGS.map((one) => ({ value: one, label: t(`findings.${one}`) }))}
        />
        <TextField
          name="orificeIn"
          label={t('measured')}
          note={t('measuredNote')}
          inputMode="decimal"
          maxLength={8}
        />
        <TextField name="note" label={t('note')} maxLength={200} />
        <SubmitButton kind="plain">{t('record')}</SubmitButton>
      </KeptForm>
    </details>
  )
}
