import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getCompanyLayer } from '@/lib/data/rules-company'
import { CompanyForm } from './company-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('rules.company'))('title') }
}

type CompanyRulesProps = Readonly<{ searchParams: Promise<{ site?: string | string[] }> }>

export default async function CompanyRulesPage({ searchParams }: CompanyRulesProps) {
  const viewer = await requireViewer()
  const { site, company, floors, mayOnlyTighten } = await found(
    getCompanyLayer(viewer, (await searchParams).site),
  )
  const t = await getTranslations('rules.company')
  const sentence = t(mayOnlyTighten ? 'sentenceSome' : 'sentence')
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref={`/rules?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={sentence} />
      <div className="px-4 py-3 desk:px-8">
        <CompanyForm
          siteId={site.id}
          citation={company.citation}
          values={company.parameters}
          floors={floors}
        />
      </div>
    </>
  )
}
