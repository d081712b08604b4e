'use client'

import Link from 'next/link'
import { usePathname } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { isCurrent, isTopScreen, PHONE_DESTINATIONS } from './destinations'

/** The four words at the bottom of the phone's top screens; deeper screens give that room to the thumb. */
export function PhoneBar() {
  const t = useTranslations('nav')
  const pathname = usePathname()
  if (!isTopScreen(pathname)) return null
  return (
    <nav className="phone-bar" aria-label={t('main')}>
      {PHONE_DESTINATIONS.map((place) => (
        <Link
          key={place.href}
          href={place.href}
          aria-current={isCurrent(place.href, pathname) ? 'page' : undefined}
        >
          <span>{t(place.label)}</span>
        </Link>
      ))}
    </nav>
  )
}
