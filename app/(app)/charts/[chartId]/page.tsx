import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { getChart, type OwnChart } from '@/lib/data/tip-charts'
import { ChartPlot } from '../chart-plot'
import { ChartTable } from '../chart-table'
import { RetireForm } from './retire-form'

type ChartPageProps = Readonly<{ params: Promise<{ chartId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('charts'))('title') }
}

export default async function ChartPage({ params }: ChartPageProps) {
  const viewer = await requireViewer()
  const { chartId } = await params
  const own = chartId === 'built-in' ? null : await found(getChart(viewer, chartId))
  const t = await getTranslations('charts')
  const chart = own?.chart ?? OFC_CARBON_STEEL
  const provenance = t(own ? 'provenanceOwn' : 'provenanceBuiltIn', { source: chart.source })
  return (
    <>
      <PhoneHead title={chart.title} where={provenance} backHref="/charts" />
      <DeskPageHead
        title={chart.title}
        sentence={provenance}
        actions={own ? <Acts own={own} /> : null}
      />
      <div className="px-4 pb-8 desk:px-8">
        {own?.retiredAt ? (
          <p className="type-body font-semibold text-heat">{t('retiredWhole')}</p>
        ) : null}
        <div className="grid gap-x-12 gap-y-4 pb-4 desk:grid-cols-2">
          <ChartPlot
            chart={chart}
            beside={own ? OFC_CARBON_STEEL : null}
            of="cuttingOxygenFt3PerH"
          />
          <ChartPlot chart={chart} beside={own ? OFC_CARBON_STEEL : null} of="speedInPerMin" />
        </div>
        <p className="type-note text-ink-2">{t(own ? 'keyBeside' : 'keyAlone')}</p>
        <div className={own ? 'grid gap-x-12 gap-y-4 desk:grid-cols-2' : ''}>
          <section className="min-w-0" aria-label={t('rowsTitle')}>
            <h2 className="type-section pt-4">{t('rowsTitle')}</h2>
            {own ? <p className="type-note text-ink-2">{t('drillNote')}</p> : null}
            <ChartTable chart={chart} />
          </section>
          {own ? (
            <section className="min-w-0" aria-label={t('besideTitle')}>
              <h2 className="type-section pt-4">{t('besideTitle')}</h2>
              <p className="type-note text-ink-2">
                {t('provenanceBuiltIn', { source: OFC_CARBON_STEEL.source })}
              </p>
              <ChartTable chart={OFC_CARBON_STEEL} />
            </section>
          ) : null}
        </div>
        {own?.mayWrite && !own.retiredAt ? (
          <>
            <div className="pt-6 desk:hidden">
              <Acts own={own} />
            </div>
            <RetireForm chartId={own.id} />
          </>
        ) : null}
      </div>
    </>
  )
}

async function Acts({ own }: Readonly<{ own: OwnChart & { mayWrite: boolean } }>) {
  const t = await getTranslations('charts')
  if (!own.mayWrite || own.retiredAt) return null
  return <ButtonLink href={`/charts/new?from=${own.id}`}>{t('newEdition')}</ButtonLink>
}
