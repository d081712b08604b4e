'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { v4 as newId } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { useReasonWords } from '@/app/_components/form/reason-words'
import { ReasonsGiven } from '@/app/_components/form/reasons-given'
import { SelectField } from '@/app/_components/form/text-field'
import { AreaChoice } from '@/app/_components/scan/area-choice'
import { beep } from '@/app/_components/scan/beep'
import { ScanOrType } from '@/app/_components/scan/scan-or-type'
import type { ActionFailure } from '@/lib/action-result'
import type { TripPage } from '@/lib/data/gear/trips'
import { serialOfCode } from '@/lib/rules/scanned-code'
import { TRIP_BODIES } from '@/lib/rules/trip'
import { loadOnTripAction, unloadAction } from '../actions'

type Told = Readonly<{ isGood: boolean; words: string }>

function fieldsOf(fields: Readonly<Record<string, string>>): FormData {
  const form = new FormData()
  form.set('key', newId())
  for (const [name, value] of Object.entries(fields)) form.set(name, value)
  return form
}

/** What became of the last code: said large, and by sound. */
function useTold() {
  const [told, setTold] = useState<Told | null>(null)
  const reason = useReasonWords()
  return {
    told,
    good: (words: string) => {
      setTold({ isGood: true, words })
      beep(true)
    },
    bad: (words: string) => {
      setTold({ isGood: false, words })
      beep(false)
    },
    why: (failure: ActionFailure) => {
      const first = failure.reasons[0] ?? { code: failure.code, params: failure.params }
      const { what, cure } = reason(first)
      return cure ? `${what} ${cure}` : what
    },
  }
}

/** Scan after scan onto the truck; each is kept at once, and the totals beside it follow. */
export function ScanOn({ trip }: Readonly<{ trip: TripPage }>) {
  const t = useTranslations('trips')
  const s = useTranslations('scan')
  const router = useRouter()
  const { told, good, bad, why } = useTold()
  const [body, setBody] = useState<string>(TRIP_BODIES[0])
  const put = async (code: string) => {
    const serial = serialOfCode(code)
    if (!serial) return bad(s('noSerial'))
    const fields = { tripId: trip.id, serial, body, weight: '', weightUnit: 'lb' }
    const result = await loadOnTripAction(null, fieldsOf(fields)).catch(() => null)
    if (!result) return bad(t('lost'))
    if (!result.ok) return bad(why(result))
    good(t('scanned', { serial }))
    router.refresh()
  }
  return (
    <section className="grid gap-3">
      <h2 className="type-section border-b-2 border-ink pb-1">{t('scanTitle')}</h2>
      <p className="type-note text-ink-2">{t('scanNote')}</p>
      {trip.vehicle.hasTrailer ? (
        <SelectField
          name="scanBody"
          label={t('where2')}
          options={TRIP_BODIES.map((one) => ({ value: one, label: t(`on.${one}`) }))}
          onChosen={setBody}
        />
      ) : null}
      <ScanOrType onCode={(code) => void put(code)} press={t('onItGoes')} />
      <ToldWords told={told} />
    </section>
  )
}

type ScanOffProps = Readonly<{
  trip: TripPage
  siteId: string
  where: string
  areas: readonly Readonly<{ id: string; name: string }>[]
}>

type Asked = Readonly<{ serial: string; failure: ActionFailure }>

/** Scan after scan off it, into the area that is chosen. A limit that only asks is answered here, for that one. */
export function ScanOff({ trip, siteId, where, areas }: ScanOffProps) {
  const t = useTranslations('trips')
  const s = useTranslations('scan')
  const router = useRouter()
  const { told, good, bad, why } = useTold()
  const [areaId, setAreaId] = useState('')
  const [asked, setAsked] = useState<Asked | null>(null)
  const take = async (code: string, isConfirmed = false) => {
    const serial = serialOfCode(code)
    if (!serial) return bad(s('noSerial'))
    setAsked(null)
    const item = trip.items.find((one) => one.serial === serial && !one.isOff)
    if (!item) return bad(t('notOnIt', { serial }))
    const fields = { tripId: trip.id, siteId, areaId, items: item.id }
    const confirmed: Record<string, string> = isConfirmed ? { storageConfirmed: 'yes' } : {}
    const result = await unloadAction(null, fieldsOf({ ...fields, ...confirmed })).catch(() => null)
    if (!result) return bad(t('lost'))
    if (!result.ok) {
      if (result.code === 'STORAGE_ASKS') setAsked({ serial, failure: result })
      return bad(why(result))
    }
    good(t('scannedOff', { serial }))
    router.refresh()
  }
  const choose = (id: string) => {
    setAreaId(id)
    setAsked(null)
  }
  return (
    <section className="grid gap-3">
      <h2 className="type-section border-b-2 border-ink pb-1">{t('scanOff', { where })}</h2>
      <AreaChoice label={t('area')} noneLabel={t('noArea')} areas={areas} onChosen={choose} />
      <ScanOrType onCode={(code) => void take(code)} press={t('offItGoes')} />
      {asked ? (
        <div className="grid gap-3">
          <ReasonsGiven failure={asked.failure} title={t('asked', { serial: asked.serial })} />
          <Button onClick={() => void take(asked.serial, true)}>
            {t('allTheSame', { serial: asked.serial })}
          </Button>
          <p className="type-note text-ink-2">{t('askedNote')}</p>
        </div>
      ) : (
        <ToldWords told={told} />
      )}
    </section>
  )
}

function ToldWords({ told }: Readonly<{ told: Told | null }>) {
  return (
    <p
      role={told && !told.isGood ? 'alert' : 'status'}
      className={`type-row-title ${told && !told.isGood ? 'trouble' : ''}`}
    >
      {told?.words}
    </p>
  )
}
