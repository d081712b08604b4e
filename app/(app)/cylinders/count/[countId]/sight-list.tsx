'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { v4 as newId } from 'uuid'
import { AreaChoice } from '@/app/_components/scan/area-choice'
import { beep } from '@/app/_components/scan/beep'
import { ScanOrType } from '@/app/_components/scan/scan-or-type'
import { serialOfCode } from '@/lib/rules/scanned-code'
import { recordSightingAction } from '../actions'

type SightListProps = Readonly<{
  countId: string
  areas: readonly Readonly<{ id: string; name: string }>[]
}>

/** Scan after scan, in the area that is chosen; each is kept at once. */
export function SightList({ countId, areas }: SightListProps) {
  const t = useTranslations('stockCount')
  const s = useTranslations('scan')
  const router = useRouter()
  const [area, setArea] = useState('')
  const [seen, setSeen] = useState<readonly string[]>([])
  const [trouble, setTrouble] = useState<'lost' | 'noSerial' | null>(null)

  const see = async (code: string) => {
    const serial = serialOfCode(code)
    if (!serial) {
      setTrouble('noSerial')
      return beep(false)
    }
    const form = new FormData()
    form.set('key', newId())
    form.set('countId', countId)
    form.set('areaId', area)
    form.set('serial', serial)
    const result = await recordSightingAction(null, form).catch(() => null)
    setTrouble(result?.ok ? null : 'lost')
    beep(result?.ok === true)
    if (!result?.ok) return
    setSeen((was) => [serial, ...was.filter((other) => other !== serial)])
    router.refresh()
  }
  return (
    <section className="grid content-start gap-4">
      <AreaChoice label={t('area')} noneLabel={t('areaNotSaid')} areas={areas} onChosen={setArea} />
      <ScanOrType onCode={(code) => void see(code)} press={t('seen')} />
      <p role="status" className="type-row-title">
        {s('count', { count: seen.length })}
      </p>
      <p role="alert" className={trouble ? 'trouble' : ''}>
        {trouble ? s(trouble) : null}
      </p>
    </section>
  )
}
