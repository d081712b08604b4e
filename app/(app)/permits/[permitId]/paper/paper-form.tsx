'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, type SelectOption, TextField } from '@/app/_components/form/text-field'
import { PAPER_KINDS } from '@/lib/schemas/paper'
import { typePaperAction } from './actions'

/** One line of the sheet after another; the photo, the day and who wrote stay as they were. */
export function PaperForm({
  permitId,
  sheets,
  day,
  clock,
}: Readonly<{
  permitId: string
  sheets: readonly SelectOption[]
  day: string
  clock: string
}>) {
  const t = useTranslations('permit.paper')
  const router = useRouter()
  return (
    <KeptForm
      id={`paper-${permitId}`}
      action={typePaperAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="permitId" value={permitId} />
      <SelectField
        name="pictureId"
        label={t('sheet')}
        options={sheets}
        {...(sheets[0] ? { defaultValue: sheets[0].value } : {})}
      />
      <SelectField
        name="kind"
        label={t('kind')}
        emptyLabel={t('choose')}
        options={PAPER_KINDS.map((kind) => ({ value: kind, label: t(`kinds.${kind}`) }))}
      />
      <TextField name="day" type="date" label={t('day')} defaultValue={day} />
      <TextField name="clock" type="time" label={t('clock')} defaultValue={clock} />
      <TextField name="writtenBy" label={t('writtenBy')} maxLength={80} />
      <TextField name="words" label={t('words')} rows={2} maxLength={300} />
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
