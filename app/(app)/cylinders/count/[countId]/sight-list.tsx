'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { type FormEvent, useState } from 'react'
import { v4 as newId } from 'uuid'
import { Button } from '@/app/_components/controls/button'
import { beep } from '@/app/_components/scan/beep'
import { Scanner } from '@/app/_components/scan/scanner'
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
  const typed = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const box = event.currentTarget.elements.namedItem('code')
    if (!(box instanceof HTMLInputElement) || box.value.trim() === '') return
    void see(box.value)
    box.value = ''
  }
  return (
    <section className="grid content-start gap-4">
      <div className="field">
        <label className="field-label" htmlFor="count-area">
          {t('area')}
        </label>
        <div className="field-box">
          <select id="count-area" value={area} onChange={(event) => setArea(event.target.value)}>
            <option value="">{t('areaNotSaid')}</option>
            {areas.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </div>
      </div>
      <Scanner onCode={(code) => void see(code)} />
      <form onSubmit={typed} className="flex items-end gap-3">
        <div className="field min-w-0 grow">
          <label className="field-label" htmlFor="count-code">
            {s('byHand')}
          </label>
          <div className="field-box">
            <input
              id="count-code"
              name="code"
              className="type-ident uppercase"
              autoComplete="off"
              maxLength={60}
            />
          </div>
        </div>
        <Button type="submit">{t('seen')}</Button>
      </form>
      <p role="status" className="type-row-title">
        {s('count', { count: seen.length })}
      </p>
      <p role="alert" className={trouble ? 'trouble' : ''}>
        {trouble ? s(trouble) : null}
      </p>
    </section>
  )
}
