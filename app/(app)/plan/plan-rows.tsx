import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { convert } from '@/lib/calc/units'
import type { PlanPage, PlanRow } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { formatAboutMoney } from '@/lib/format/numbers'
import type { PlanAsk } from '@/lib/schemas/plan'
import { ConfirmRow } from './confirm-row'
import { dayOf } from './day-of'
import { percentWords } from './percent-words'
import { planHref, withChange } from './plan-address'

const MINOR = 100
const pounds = (kg: number) => Math.round(convert({ value: kg, from: 'kg', to: 'lb' }))
const LINK = 'min-h-12 content-center text-cobalt underline desk:min-h-8'

type RowsProps = Readonly<{ page: PlanPage; ask: PlanAsk }>

/** What is to be done, a line each: when, what, why, what it costs; each can be changed, left out or confirmed. */
export function PlanRows({ page, ask }: RowsProps) {
  const t = useTranslations('plan')
  return (
    <ul aria-label={t('whatToDo')} className="border-t-2 border-ink">
      {page.rows.map((row) => (
        <li
          key={row.key}
          className="grid gap-x-6 gap-y-1 border-b border-rule py-2 desk:grid-cols-[140px_minmax(0,5fr)_minmax(0,6fr)_120px]"
        >
          <p>
            <b className="font-[650]">{t(`kind.${row.kind}`)}</b>
            <span className="block whitespace-nowrap text-ink-2">
              {formatDay(dayOf(row.date, 0), { timeZone: 'UTC' })}
            </span>
          </p>
          <div>
            <p className="font-[650]">
              {t(`place.${row.kind}`, { from: row.fromName ?? '', site: row.siteName })}
            </p>
            <Lines row={row} ask={ask} />
          </div>
          <p className="text-ink-2">
            <Why row={row} days={page.fan?.left.length ?? 0} />
          </p>
          <p className="desk:text-right">
            {t('about', { value: formatAboutMoney(row.costMinor / MINOR, page.currency) })}
          </p>
          <div className="flex flex-wrap items-center gap-x-6 desk:col-start-2 desk:col-end-5">
            {row.mayConfirm && row.lines.length > 0 ? <ConfirmRow row={row} /> : null}
            <Link
              className={LINK}
              href={planHref(ask, {
                changes: withChange(ask.changes, { key: row.key, sizeId: null, quantity: 0 }),
              })}
            >
              {t('leaveOut', { what: t(`kind.${row.kind}`), site: row.siteName })}
            </Link>
          </div>
        </li>
      ))}
    </ul>
  )
}

/** Each size with its number, and one more or one fewer. */
function Lines({ row, ask }: Readonly<{ row: PlanRow; ask: PlanAsk }>) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  if (row.lines.length === 0) return <p className="text-ink-2">{t('onlyEmpties')}</p>
  return (
    <ul>
      {row.lines.map((line) => {
        const to = (quantity: number) =>
          planHref(ask, {
            changes: withChange(ask.changes, { key: row.key, sizeId: line.sizeId, quantity }),
          })
        const what = t('line', {
          quantity: line.quantity,
          gas: g(line.gasId as 'oxygen'),
          size: line.sizeName,
        })
        return (
          <li key={line.sizeId} className="flex flex-wrap items-center gap-x-5">
            <span>{what}</span>
            <Link className={LINK} href={to(line.quantity + 1)} aria-label={t('oneMore', { what })}>
              {t('more')}
            </Link>
            {line.quantity > 1 ? (
              <Link
                className={LINK}
                href={to(line.quantity - 1)}
                aria-label={t('oneFewer', { what })}
              >
                {t('fewer')}
              </Link>
            ) : null}
          </li>
        )
      })}
    </ul>
  )
}

function Why({ row, days }: Readonly<{ row: PlanRow; days: number }>) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const truck = row.truckKg
    ? t(row.truckKg.papers ? 'truckPapers' : 'truck', {
        load: pounds(row.truckKg.load),
        most: pounds(row.truckKg.most),
      })
    : ''
  if (row.kind === 'return') return t('whyReturn')
  if (!row.helps) return row.kind === 'order' ? t('whyTruck') : truck
  const why = t('why', {
    gas: g(row.helps.gasId as 'oxygen'),
    site: row.siteName,
    days,
    before: percentWords(row.helps.without),
    after: percentWords(row.helps.withLine),
  })
  return `${why} ${truck}`
}
