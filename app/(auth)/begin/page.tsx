import type { Metadata } from 'next'
import Link from 'next/link'
import { redirect } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { Wordmark } from '@/app/_components/wordmark'
import { requireAnyViewer } from '@/lib/auth/viewer'
import { BeginForm } from './begin-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('begin'))('title') }
}

/** Where a password that somebody else made leads, and nowhere else. */
export default async function BeginPage() {
  const viewer = await requireAnyViewer()
  if (!viewer.mustBegin) redirect('/')
  const t = await getTranslations('begin')
  return (
    <main className="mx-auto w-full max-w-120 px-4 pt-6 pb-12 desk:pt-16">
      <p>
        <Wordmark />
      </p>
      <h1 className="type-desk-title mt-6">{t('title')}</h1>
      <p className="type-body text-ink-2 mt-1 mb-6">{t('why', { name: viewer.name })}</p>
      <BeginForm />
      <p className="mt-6">
        <Link className="text-link inline-block py-2" href="/sign-out">
          {t('signOut')}
        </Link>
      </p>
    </main>
  )
}
