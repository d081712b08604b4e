'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { Wordmark } from '../wordmark'
import { DESK_DESTINATIONS, isCurrent } from './destinations'

export function DeskHead({
  personName,
  companyName,
}: Readonly<{ personName: string; companyName: string }>) {
  const t = useTranslations('nav')
  const pathname = usePathname()
  return (
    <header className="desk-head">
      <Link href="/" className="desk-head-home" aria-label={t('home')}>
        <Wordmark />
      </Link>
      <nav aria-label={t('main')}>
        {DESK_DESTINATIONS.map((place) => (
          <Link
            key={place.href}
            href={place.href}
            aria-current={isCurrent(place.href, pathname) ? 'page' : undefined}
          >
            {t(place.label)}
          </Link>
        ))}
      </nav>
      <Link href="/me" className="desk-head-person">
        <b>{personName}</b>
        <span>{companyName}</span>
      </Link>
    </header>
  )
}
