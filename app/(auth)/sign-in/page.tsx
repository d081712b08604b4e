import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { Wordmark } from '@/app/_components/wordmark'
import { getViewer } from '@/lib/auth/viewer'
import { isDemoCompany } from '@/lib/data/auth'
import { DEMO_SIGN_INS } from '@/seed/demo/sign-ins'
import { DemoSignIns } from './demo-sign-ins'
import { nextPath } from './next-path'
import { SignInForm } from './sign-in-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('auth'))('title') }
}

type SignInPageProps = Readonly<{ searchParams: Promise<{ next?: string | string[] }> }>

export default async function SignInPage({ searchParams }: SignInPageProps) {
  const next = nextPath((await searchParams).next)
  if (await getViewer()) redirect(next)
  const t = await getTranslations('auth')
  const isDemo = await isDemoCompany()
  return (
    <main className="mx-auto grid w-full max-w-240 gap-10 px-4 pt-6 pb-12 desk:grid-cols-[360px_1fr] desk:gap-12 desk:px-8 desk:pt-16">
      <div>
        <p>
          <Wordmark />
        </p>
        <h1 className="type-desk-title mt-6">{t('title')}</h1>
        <p className="type-body text-ink-2 mt-1 mb-6">{t('forWhom')}</p>
        <SignInForm next={next} />
        <p className="type-small text-ink-2 mt-6">{t('caution')}</p>
      </div>
      {isDemo ? <DemoSignIns people={DEMO_SIGN_INS} next={next} /> : null}
    </main>
  )
}
