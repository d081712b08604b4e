import { useTranslations } from 'next-intl'
import type { CureCode } from '@/lib/rules/cure'

/** What would make it go away: each way on its own line, what must be done together in one. */
export function WayOut({ ways }: Readonly<{ ways: readonly (readonly CureCode[])[] }>) {
  const t = useTranslations('rules')
  if (ways.length === 0)
    return <p className="type-note text-ink-2 desk:type-desk-note">{t('staysHere')}</p>
  return (
    <div className="type-note desk:type-desk-note">
      <h4 className="font-semibold">{t('goesAway')}</h4>
      <ul className="list-disc pl-5 text-ink-2">
        {ways.map((way) => (
          <li key={way.join()}>{way.map((cure) => t(`cures.${cure}`)).join(' ')}</li>
        ))}
      </ul>
    </div>
  )
}
