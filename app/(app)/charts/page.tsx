import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { type ChartList, listCharts } from '@/lib/data/tip-charts'
import { formatDate } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { ChooseForm } from './choose-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('charts'))('title') }
}

export default async function ChartsPage() {
  const viewer = await requireViewer()
  const [list, company] = [await found(listCharts(viewer)), await frameFor(viewer)]
  const t = await getTranslations('charts')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: company.timeZone }
  const add =
    list.sites.length > 0 ? (
      <ButtonLink kind="main" href="/charts/new" isWide>
        {t('enter')}
      </ButtonLink>
    ) : null
  return (
    <>
      <PhoneHead title={t('title')} where={t('sentence')} backHref="/cuts" />
      <DeskPageHead title={t('title')} sentence={t('sentence')} actions={add} />
      <div className="desk:grid desk:grid-cols-2 desk:gap-x-12 desk:px-8">
        <Charts list={list} prefs={prefs} />
        <Outfits list={list} />
      </div>
      {add ? <div className="thumb desk:hidden!">{add}</div> : null}
    </>
  )
}

async function Charts({ list, prefs }: Readonly<{ list: ChartList; prefs: FormatPrefs }>) {
  const [t, jobs] = [await getTranslations('charts'), await getTranslations('jobs')]
  return (
    <section>
      <h2 className="type-section px-4 pt-3 desk:px-0">{t('listTitle')}</h2>
      <ul className="plain-rows">
        <PlainRow
          href="/charts/built-in"
          title={OFC_CARBON_STEEL.title}
          note={t('builtInNote', { source: OFC_CARBON_STEEL.source })}
        />
        {list.charts.map((one) => (
          <PlainRow
            key={one.id}
            href={`/charts/${one.id}`}
            title={one.title}
            note={t('ownNote', {
              gas: jobs(`gas.${one.fuelGasId}` as 'gas.propane'),
              name: one.createdByName,
              day: formatDate(one.createdAt, prefs),
            })}
            isQuiet={one.retiredAt !== null}
            {...(one.retiredAt ? { aside: t('retired') } : {})}
          />
        ))}
      </ul>
      {list.charts.length === 0 ? <p className="state">{t('noneOwn')}</p> : null}
    </section>
  )
}

async function Outfits({ list }: Readonly<{ list: ChartList }>) {
  const [t, jobs] = [await getTranslations('charts'), await getTranslations('jobs')]
  const inUse = list.charts.filter((one) => one.retiredAt === null)
  return (
    <section>
      <h2 className="type-section px-4 pt-3 desk:px-0">{t('outfitsTitle')}</h2>
      <p className="type-note px-4 text-ink-2 desk:px-0">{t('outfitsNote')}</p>
      <ul className="plain-rows">
        {list.outfits.map((outfit) => {
          const gas = jobs(`gas.${outfit.fuelGasId}` as 'gas.propane')
          const title = t('outfit', { number: outfit.number, site: outfit.siteName, gas })
          const options = inUse.filter((one) => one.fuelGasId === outfit.fuelGasId)
          const chosen = list.charts.find((one) => one.id === outfit.chartId)
          return (
            <li key={outfit.id} className="border-b border-rule px-4 py-2 desk:px-0">
              <span className="type-body">{title}</span>
              {outfit.mayChoose && options.length > 0 ? (
                <ChooseForm
                  outfitId={outfit.id}
                  label={t('chartOf', { number: outfit.number })}
                  chartId={outfit.chartId ?? ''}
                  options={options.map((one) => ({ value: one.id, label: one.title }))}
                />
              ) : (
                <span className="block type-note text-ink-2">{chosen?.title ?? t('builtIn')}</span>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
