import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { Column, DataTable } from '@/app/_components/data-table'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { getSiteCost, monthOf } from '@/lib/data/costs'
import { readNow } from '@/lib/data/cylinders'
import { getRent, type RentView } from '@/lib/data/rent'
import { resolveSite } from '@/lib/data/sites'
import { localDay } from '@/lib/format/local-time'
import { formatMoney } from '@/lib/format/numbers'
import type { CylinderStatus } from '@/lib/schemas/cylinder'
import { SiteCosts } from './site-costs'
import { StatementForm } from './statement-form'
import { TermsForm } from './terms-form'

type RentPageProps = Readonly<{ searchParams: Promise<{ site?: string; month?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('rent'))('title') }
}

/** What rented cylinders cost here, which should go back, and whether the supplier asks what is due. */
export default async function RentPage({ searchParams }: RentPageProps) {
  const viewer = await requireViewer()
  const address = await searchParams
  const t = await getTranslations('rent')
  const c = await getTranslations('cylinders')
  const site = await found(resolveSite(viewer, address.site))
  const today = localDay(await readNow(), site.zone)
  const month = /^\d{4}-(0[1-9]|1[0-2])$/.test(address.month ?? '')
    ? (address.month ?? '')
    : today.slice(0, 7)
  const rent = await found(getRent(viewer, site.id, new Date(`${month}-01T00:00:00.000Z`)))
  const costs = await found(getSiteCost(viewer, site.id, monthOf(month)))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const place = <SiteSwitch site={site} others={site.others} path="/rent" />
  const suppliers = rent.suppliers.map((row) => ({ value: row.id, label: row.name }))
  const sizeWords = (gasId: string, name: string) => `${c(`gas.${gasId}` as 'gas.oxygen')} ${name}`
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={place} backHref={`/cylinders?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={place} />
      <SectionNav section="gas" viewer={viewer} siteId={site.id} />
      <div className="flex flex-col gap-8 px-4 py-3 desk:px-8">
        <form action="/rent" className="flex items-end gap-3">
          <input type="hidden" name="site" value={site.id} />
          <div className="field">
            <label className="field-label" htmlFor="rent-month">
              {t('month')}
            </label>
            <div className="field-box">
              <input id="rent-month" name="month" defaultValue={month} maxLength={7} />
            </div>
          </div>
          <button type="submit" className="btn">
            <span className="btn-face">{t('show')}</span>
          </button>
        </form>
        <SiteCosts costs={costs} month={month} />
        <section>
          <h2 className="type-section pb-1">{t('cost', { month })}</h2>
          {rent.bySupplier.length === 0 ? (
            <p className="type-note text-ink-2">{t('noneRented')}</p>
          ) : (
            <ul className="border-t-2 border-ink">
              {rent.bySupplier.map((row) => (
                <li
                  key={row.supplierName}
                  className="flex justify-between gap-3 border-b border-rule py-2"
                >
                  <span>
                    {row.supplierName || t('noSupplier')}.{' '}
                    {t('counted', { cylinders: row.cylinders, days: row.days })}
                    {row.unknown > 0 ? ` ${t('withoutTerms', { count: row.unknown })}` : null}
                  </span>
                  <b>{formatMoney(row.amountMinor, rent.currency)}</b>
                </li>
              ))}
            </ul>
          )}
        </section>
        <Idle rent={rent} words={sizeWords} />
        {rent.mayWrite ? (
          <section>
            <h2 className="type-section pb-1">{t('statementTitle', { month })}</h2>
            <StatementForm siteId={site.id} month={month} suppliers={suppliers} />
          </section>
        ) : null}
        <section>
          <h2 className="type-section pb-1">{t('terms')}</h2>
          <ul className="mb-4 border-t-2 border-ink">
            {rent.terms.map((row) => (
              <li key={row.id} className="border-b border-rule py-2 type-note">
                {row.supplierName}, {sizeWords(row.gasId, row.sizeName)}.{' '}
                {t('termsFrom', { day: row.validFrom.toISOString().slice(0, 10) })}{' '}
                {t('termsLine', {
                  free: row.freeDays,
                  rent: formatMoney(row.rentMinorPerDay, rent.currency),
                  from: row.demurrageFromDay ?? 0,
                  demurrage: formatMoney(row.demurrageMinorPerDay, rent.currency),
                })}
              </li>
            ))}
          </ul>
          {rent.mayWrite ? (
            <TermsForm
              siteId={site.id}
              currency={rent.currency}
              suppliers={suppliers}
              sizes={rent.sizes.map((size) => ({
                value: size.id,
                label: sizeWords(size.gasId, size.name),
              }))}
              today={today}
            />
          ) : null}
        </section>
      </div>
      <ListFiles lists={['rented', 'rentTerms']} query={{ site: site.id }} />
    </PrefsProvider>
  )
}

async function Idle({
  rent,
  words,
}: Readonly<{ rent: RentView; words: (gasId: string, name: string) => string }>) {
  const t = await getTranslations('rent')
  const c = await getTranslations('cylinders')
  const head = (
    <>
      <Column>{t('serial')}</Column>
      <Column>{t('size')}</Column>
      <Column>{c('statusHead')}</Column>
      <Column isFigure>{t('idleDays')}</Column>
    </>
  )
  return (
    <section>
      <h2 className="type-section pb-1">{t('idle', { count: rent.idle.length })}</h2>
      {rent.idle.length === 0 ? null : (
        <div className="overflow-x-auto">
          <DataTable caption={t('idle', { count: rent.idle.length })} head={head}>
            <tbody>
              {rent.idle.map((row) => (
                <tr key={row.id}>
                  <td>
                    <Link
                      href={`/cylinders/${row.id}`}
                      className="type-ident text-ink underline decoration-cobalt underline-offset-4"
                    >
                      {row.serial}
                    </Link>
                  </td>
                  <td>{words(row.gasId, row.sizeName)}</td>
                  <td>{c(`status.${row.status as CylinderStatus}`)}</td>
                  <td className="is-figure">{row.days}</td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        </div>
      )}
    </section>
  )
}
