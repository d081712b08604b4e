import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import type { Viewer } from '@/lib/access/viewer'
import { feedToken } from '@/lib/auth/feed-token'
import { ownFeed } from '@/lib/data/plan/calendar'
import { listSheetSuppliers } from '@/lib/data/plan/sheets'
import { env } from '@/lib/env'
import type { PlanAsk } from '@/lib/schemas/plan'
import { planQuery } from './plan-address'
import { SendSheet } from './send-sheet'

const LINK = 'block min-h-12 content-center text-cobalt underline desk:min-h-8'

/** Order sheets by supplier, the yard's truck list, the calendar, and how good the forecasts were. */
export async function TakeAlong({ viewer, ask }: Readonly<{ viewer: Viewer; ask: PlanAsk }>) {
  const t = await getTranslations('plan')
  const [suppliers, owner] = await Promise.all([listSheetSuppliers(viewer), ownFeed(viewer)])
  return (
    <ul className="grid gap-x-8 desk:grid-cols-2">
      {suppliers.map(({ id, name, orders, email }) => (
        <li key={id} className="flex flex-wrap items-center gap-x-5">
          <span>{t('sheetOf', { supplier: name, orders })}</span>
          {(['pdf', 'csv'] as const).map((as) => (
            <a
              key={as}
              className={LINK}
              href={`/api/plan/sheet?supplier=${id}&as=${as}`}
              aria-label={t('sheetAs', { supplier: name, as: as.toUpperCase() })}
              download
            >
              {as.toUpperCase()}
            </a>
          ))}
          {env.SMTP_URL && email ? <SendSheet supplierId={id} name={name} email={email} /> : null}
        </li>
      ))}
      <li>
        <a className={LINK} href={`/api/plan/trucks?${planQuery(ask)}`} download>
          {t('truckList')}
        </a>
      </li>
      {owner ? (
        <li>
          <a className={LINK} href={`/api/calendar/${feedToken(owner)}`}>
            {t('calendar')}
          </a>
          <p className="type-small text-ink-2">{t('calendarNote')}</p>
        </li>
      ) : null}
      <li>
        <Link className={LINK} href="/plan/accuracy">
          {t('toAccuracy')}
        </Link>
      </li>
    </ul>
  )
}
