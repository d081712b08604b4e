import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { DESK_DESTINATIONS } from '@/app/_components/nav/destinations'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { type Action, roleCan } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'
import { PinForm, PrefsForm } from './me-forms'

/** What a desk's word asks for, so that a phone offers no door that is shut. */
const NEEDS: Readonly<Record<string, Action>> = {
  '/sites': 'site:read',
  '/audit': 'audit:read',
  '/people': 'people:read',
  '/records': 'record:read',
}

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('me'))('title') }
}

export default async function MePage() {
  const viewer = await requireViewer()
  const t = await getTranslations('me')
  const n = await getTranslations('nav')
  const doors = DESK_DESTINATIONS.filter(({ href }) => {
    const need = NEEDS[href]
    return need !== undefined && viewer.roles.some((role) => roleCan(role, need))
  })
  return (
    <>
      <PhoneHead title={viewer.name} where={t('title')} />
      <DeskPageHead title={viewer.name} sentence={t('title')} />
      <ul className="plain-rows border-t border-rule desk:hidden">
        {doors.map((door) => (
          <PlainRow key={door.href} href={door.href} title={n(door.label)} />
        ))}
      </ul>
      <div className="grid gap-10 px-4 py-4 desk:grid-cols-[360px_360px] desk:px-8">
        <section>
          <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('reads')}</h2>
          <PrefsForm units={viewer.units} clock={viewer.clock} theme={viewer.theme} />
        </section>
        <section>
          <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('pin')}</h2>
          <PinForm />
          <p className="mt-6">
            <Link className="text-link inline-block py-2" href="/rules">
              {t('rules')}
            </Link>
          </p>
          <p>
            <Link className="text-link inline-block py-2" href="/incidents">
              {t('incidents')}
            </Link>
          </p>
          <p>
            <Link className="text-link inline-block py-2" href="/sign-out">
              {t('signOut')}
            </Link>
          </p>
        </section>
      </div>
    </>
  )
}
