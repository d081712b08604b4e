import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { LayerList } from '@/app/_components/rules/layer-list'
import { requireViewer } from '@/lib/auth/viewer'
import { getPermitRules } from '@/lib/data/permits/rules-view'
import { formatDate } from '@/lib/format/clock'
import { PermitFrame } from '../frame'
import { PrecautionRows, RefusalRows } from './why-rows'

type RulesPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.rules'))('title') }
}

export default async function PermitRulesPage({ params }: RulesPageProps) {
  const viewer = await requireViewer()
  const view = await found(getPermitRules(viewer, (await params).permitId))
  const t = await getTranslations('permit.rules')
  const { head, issuedAt, layers, precautions, refusals } = view
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  return (
    <PermitFrame head={head} prefs={prefs} title={t('title')} backHref={`/permits/${head.id}`}>
      <div className="px-4 pb-8 desk:grid desk:grid-cols-[minmax(0,6fr)_minmax(0,5fr)] desk:gap-x-12 desk:px-8">
        <div className="grid content-start gap-6">
          <p className="pt-3 text-ink-2">
            {issuedAt ? t('thatDay', { day: formatDate(issuedAt, prefs) }) : t('today')}
          </p>
          {refusals.length > 0 ? (
            <section>
              <h2 className="type-section border-b-2 border-ink pb-1">
                {t('refusals', { count: refusals.length })}
              </h2>
              <RefusalRows refusals={refusals} />
            </section>
          ) : null}
          <section>
            <h2 className="type-section border-b-2 border-ink pb-1">
              {t('precautions', { count: precautions.length })}
            </h2>
            <PrecautionRows precautions={precautions} prefs={prefs} />
          </section>
        </div>
        <section className="mt-8 desk:mt-3">
          <h2 className="type-section border-b-2 border-ink pb-1">
            {t('layers', { count: layers.length })}
          </h2>
          <LayerList layers={layers} />
          <p className="py-3">
            <a className="text-link" href={`/rules?site=${head.siteId}`}>
              {t('site')}
            </a>
          </p>
          <p className="type-note text-ink-2">{t('caution')}</p>
        </section>
      </div>
    </PermitFrame>
  )
}
