'use client'

import { useTranslations } from 'next-intl'
import { useReasonWords } from '@/app/_components/form/reason-words'
import { TurnedArrow } from '@/app/_components/marks/icons'
import type { Consequence } from '@/lib/data/permits/clearance-view'

const MOST_ASKS = 4

/** Under the answer that caused it: what it forbids, or what it asks for. */
export function ConsequenceWords({ brings }: Readonly<{ brings: Consequence }>) {
  const t = useTranslations('permit.clearance')
  const p = useTranslations('precautions')
  const words = useReasonWords()
  const forbidden = brings.forbids.map((reason) => {
    const { what, cure, citation } = words(reason)
    return { key: what, text: cure ? `${what} ${cure}` : what, citation }
  })
  const asked = brings.asks
    .filter((id) => id !== 'fire-watch')
    .slice(0, MOST_ASKS)
    .map((id) => ({ key: id, text: p(id), citation: undefined }))
  const watch =
    brings.bringsWatch && forbidden.length === 0
      ? [{ key: 'watch', text: t('bringsWatch'), citation: undefined }]
      : []
  const lines = forbidden.length > 0 ? forbidden : [...watch, ...asked]
  return (
    <div role="status">
      {lines.map(({ key, text, citation }) => (
        <p key={key} className="consequence">
          <TurnedArrow />
          <span>
            {text}
            {citation ? (
              <span className="block type-small font-normal text-ink-2">{citation}</span>
            ) : null}
          </span>
        </p>
      ))}
    </div>
  )
}
