import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { LayerList } from '@/app/_components/rules/layer-list'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { getSiteRules, type SiteRulesView } from '@/lib/data/rules'
import { RulesetForms } from './ruleset-forms'

type RulesProps = Readonly<{ searchParams: Promise<{ site?: string | string[] }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('rules.site'))('title') }
}

export default async function SiteRulesPage({ searchParams }: RulesProps) {
  const viewer = await requireViewer()
  const view = await found(getSiteRules(viewer, (await searchParams).site))
  const t = await getTranslations('rules.site')
  const { site, layers, waiting, canWrite } = view
  const where = <SiteSwitch site={site} others={site.others} path="/rules" />
  return (
    <>
      <PhoneHead title={t('title')} where={where} backHref="/me" />
      <DeskPageHead title={t('title')} sentence={where} />
      <SectionNav section="gear" viewer={viewer} siteId={site.id} />
      <div className="grid gap-x-12 gap-y-8 px-4 pb-8 desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)] desk:px-8">
        <section>
          <h2 className="type-section border-b-2 border-ink pb-1">
            {t('inForce', { count: layers.length })}
          </h2>
          <LayerList layers={layers} />
          {waiting.length > 0 ? (
            <section className="mt-6">
              <h2 className="type-section border-b-2 border-ink pb-1">{t('waiting')}</h2>
              <LayerList layers={waiting} />
            </section>
          ) : null}
          <p className="mt-3 type-note text-ink-2">{t('caution')}</p>
        </section>
        {canWrite ? <Change view={view} /> : <p className="text-ink-2">{t('notYours')}</p>}
      </div>
    </>
  )
}

async function Change({ view }: Readonly<{ view: SiteRulesView }>) {
  const t = await getTranslations('rules.site')
  const names = await getTranslations('rules.layers')
  const { site, offered, taken, layers, waiting } = view
  const nameOf = (id: string, label: string) =>
    names.has(id as 'company') ? names(id as 'company') : label
  const known = [...layers, ...waiting]
  return (
    <section className="grid content-start gap-6">
      <h2 className="type-section border-b-2 border-ink pb-1">{t('change')}</h2>
      <ButtonLink kind="main" isWide href={`/rules/new?site=${site.id}`}>
        {t('typeIn')}
      </ButtonLink>
      <ButtonLink isWide href={`/rules/company?site=${site.id}`}>
        {t('company')}
      </ButtonLink>
      <RulesetForms
        siteId={site.id}
        offered={offered.map(({ id, label }) => ({ id, label: nameOf(id, label) }))}
        taken={taken.map((id) => ({
          id,
          label: nameOf(id, known.find((layer) => layer.id === id)?.label ?? id),
        }))}
      />
    </section>
  )
}
