'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { saveStorageAnswersAction } from '../actions'

const WALL = ['barrierRatingMin', 'barrierHeightFt', 'barrierAboveFt', 'barrierBesideFt'] as const
const INDOORS = [
  'isVentilated',
  'isDry',
  'isLocker',
  'isAwayFromHeatAndExits',
  'isSafeFromTampering',
] as const
const LPG = ['lpgBuildingFt', 'lpgDoorFt', 'lpgCombustiblesFt', 'extinguisherRatingB'] as const

type QuestionsFormProps = Readonly<{ areaId: string; siteId: string; isIndoors: boolean }>

/** Asked anew each time: what was true last time is what somebody should look at again. */
export function QuestionsForm({ areaId, siteId, isIndoors }: QuestionsFormProps) {
  const t = useTranslations('storage.questions')
  const router = useRouter()
  return (
    <KeptForm
      id={`storage-${areaId}`}
      action={saveStorageAnswersAction}
      refusedTitle={t('refused')}
      onDone={() => router.push(`/storage?site=${siteId}`)}
      className="flex flex-col gap-6"
    >
      <input type="hidden" name="areaId" value={areaId} />
      <Part title={t('parts')}>
        <Measured name="oxygenFuelFt" />
        <PlainTick name="hasBarrier" label={t('hasBarrier')} />
        <PlainTick name="isNoncombustible" label={t('isNoncombustible')} />
        {WALL.map((name) => (
          <Measured key={name} name={name} />
        ))}
        <PlainTick name="isInGasCabinets" label={t('isInGasCabinets')} />
      </Part>
      <Part title={t('place')}>
        {isIndoors ? (
          <>
            {INDOORS.map((name) => (
              <PlainTick key={name} name={name} label={t(name)} />
            ))}
            <Measured name="highlyCombustibleFt" />
          </>
        ) : (
          <Measured name="vegetationFt" />
        )}
        <Measured name="noSmokingSignsWithinFt" />
        <Measured name="hottestF" />
        <PlainTick name="couldFall" label={t('couldFall')} />
        <TextField name="firePermitNo" label={t('firePermitNo')} maxLength={40} isIdentity />
      </Part>
      {isIndoors ? null : (
        <Part title={t('lpg')}>
          {LPG.map((name) => (
            <Measured key={name} name={name} />
          ))}
          <PlainTick name="hasSingleExit" label={t('hasSingleExit')} />
        </Part>
      )}
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}

function Part({ title, children }: Readonly<{ title: string; children: ReactNode }>) {
  return (
    <fieldset className="flex flex-col gap-3">
      <legend className="type-section mb-2 w-full border-b-2 border-ink pb-1">{title}</legend>
      {children}
    </fieldset>
  )
}

type MeasuredName =
  | 'oxygenFuelFt'
  | 'highlyCombustibleFt'
  | 'vegetationFt'
  | 'noSmokingSignsWithinFt'
  | 'hottestF'
  | (typeof WALL)[number]
  | (typeof LPG)[number]

function Measured({ name }: Readonly<{ name: MeasuredName }>) {
  const t = useTranslations('storage.questions')
  return <TextField name={name} label={t(name)} inputMode="decimal" maxLength={8} />
}
