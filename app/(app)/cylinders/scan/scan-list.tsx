'use client'

import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { ButtonLink } from '@/app/_components/controls/button'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { beep } from '@/app/_components/scan/beep'
import { ScanOrType } from '@/app/_components/scan/scan-or-type'
import type { ScanAnswer } from '@/lib/data/scan'
import type { CylinderStatus } from '@/lib/schemas/cylinder'

type ScanListProps = Readonly<{
  siteId: string
  wantedGas: string | null
  /** Where serials go that were not known, or that came back: to the delivery. */
  mayReceive: boolean
}>

/** Many in a row: a running count, a sound each, and what stops it large at the top. */
export function ScanList({ siteId, wantedGas, mayReceive }: ScanListProps) {
  const t = useTranslations('scan')
  const [lines, setLines] = useState<readonly ScanAnswer[]>([])
  const [trouble, setTrouble] = useState<'lost' | 'noSerial' | null>(null)

  const look = async (code: string) => {
    const query = new URLSearchParams({
      site: siteId,
      code,
      ...(wantedGas ? { gas: wantedGas } : {}),
    })
    try {
      const response = await fetch(`/api/cylinders/look?${query}`)
      const { answer } = (await response.json()) as { answer: ScanAnswer | null }
      setTrouble(answer ? null : 'noSerial')
      if (answer)
        setLines((was) => [answer, ...was.filter((line) => line.serial !== answer.serial)])
      beep(answer !== null && !answer.mustStop)
    } catch {
      setTrouble('lost')
      beep(false)
    }
  }
  const newest = lines[0]
  const toReceive = lines.filter((answer) =>
    answer.codes.some((code) => code === 'unknown' || code === 'away'),
  )
  return (
    <div className="grid gap-4 desk:grid-cols-2 desk:gap-12">
      <div className="grid content-start gap-4">
        <ScanOrType onCode={(code) => void look(code)} press={t('lookUp')} />
        {trouble ? (
          <p role="alert" className="trouble">
            {t(trouble)}
          </p>
        ) : null}
      </div>
      <div>
        <p className="type-section" role="status">
          {t('count', { count: lines.length })}
        </p>
        {newest ? <Newest answer={newest} /> : <p className="type-note text-ink-2">{t('none')}</p>}
        <ol className="border-t-2 border-ink">
          {lines.map((answer) => (
            <ScanRow key={answer.serial} answer={answer} />
          ))}
        </ol>
        {mayReceive && toReceive.length > 0 ? (
          <p className="py-3">
            <ButtonLink
              href={`/deliveries/new?${new URLSearchParams({ site: siteId, serials: toReceive.map((answer) => answer.serial).join(',') })}`}
            >
              {t('receive', { count: toReceive.length })}
            </ButtonLink>
          </p>
        ) : null}
      </div>
    </div>
  )
}

function Newest({ answer }: Readonly<{ answer: ScanAnswer }>) {
  const t = useTranslations('scan')
  if (answer.codes.length === 0)
    return (
      <p className="flex items-center gap-2 py-2 type-row-title">
        <AnswerMark name="done" />
        {t('good', { serial: answer.serial })}
      </p>
    )
  return (
    <div
      role="alert"
      className={`my-2 px-4 py-3 ${answer.mustStop ? 'bg-heat text-paper' : 'border-2 border-ink'}`}
    >
      <p className="type-ident text-[22px]">{answer.serial}</p>
      {answer.codes.map((code) => (
        <p key={code} className="text-[22px] leading-7 font-semibold">
          {t(`code.${code}`, { site: answer.otherSite ?? '' })}
        </p>
      ))}
      {answer.near.map((near) => (
        <p key={near.serial} className="type-note">
          {t('near', { serial: near.serial, how: near.how })}
        </p>
      ))}
    </div>
  )
}

function ScanRow({ answer }: Readonly<{ answer: ScanAnswer }>) {
  const t = useTranslations('scan')
  const c = useTranslations('cylinders')
  const words = [
    answer.gasId ? `${c(`gas.${answer.gasId}` as 'gas.oxygen')} ${answer.sizeName}` : null,
    answer.status && c.has(`status.${answer.status}` as 'status.full')
      ? c(`status.${answer.status as CylinderStatus}`)
      : null,
    answer.areaName,
    ...answer.codes.map((code) => t(`code.${code}`, { site: answer.otherSite ?? '' })),
  ]
  return (
    <li className="flex justify-between gap-3 border-b border-rule py-2">
      {answer.id ? (
        <Link
          href={`/cylinders/${answer.id}`}
          className="type-ident inline-block min-h-6 text-ink underline decoration-cobalt underline-offset-4"
        >
          {answer.serial}
        </Link>
      ) : (
        <span className="type-ident">{answer.serial}</span>
      )}
      <span className={`text-right type-note ${answer.mustStop ? 'trouble' : 'text-ink-2'}`}>
        {words.filter(Boolean).join('. ')}
      </span>
    </li>
  )
}
