import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { Wordmark } from '@/app/_components/wordmark'
import { requireAnyViewer } from '@/lib/auth/viewer'
import { SignOutForm } from './sign-out-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('auth'))('signOut') }
}

export default async function SignOutPage() {
  const viewer = await requireAnyViewer()
  const t = await getTranslations('auth')
  return (
    <main className="mx-auto w-full max-w-120 px-4 pt-6 desk:pt-16">
      <p>
        <Wordmark />
      </p>
      <h1 className="type-desk-title mt-6">{t('signOut')}</h1>
      <p className="type-body text-ink-2 mt-1 mb-6">{t('signedInAs', { name: viewer.name })}</p>
      <SignOutForm />
    </main>
  )
}
