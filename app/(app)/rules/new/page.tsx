import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getRulesetDesk } from '@/lib/data/rules'
import { RulesetForm } from './ruleset-form'

type NewRulesetProps = Readonly<{ searchParams: Promise<{ site?: string | string[] }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('rules.form'))('title') }
}

export default async function NewRulesetPage({ searchParams }: NewRulesetProps) {
  const viewer = await requireViewer()
  const { site, today, layers, known } = await found(
    getRulesetDesk(viewer, (await searchParams).site),
  )
  const t = await getTranslations('rules.form')
  return (
    <>
      <PhoneHead title={t('title')} where={site.name} backHref={`/rules?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={t('sentence', { site: site.name })} />
      <div className="px-4 py-3 desk:px-8">
        <RulesetForm siteId={site.id} today={today} layers={layers} known={known} />
      </div>
    </>
  )
}
