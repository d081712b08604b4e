import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getPlan, type PlanPage } from '@/lib/data/plan/plan'
import { HOUSE } from '@/lib/data/plan/problem'
import { formatDayClock } from '@/lib/format/clock'
import { formatAboutMoney, formatMoney } from '@/lib/format/numbers'
import { type PlanAsk, planAskOf } from '@/lib/schemas/plan'
import { BetterPlan } from './better-plan'
import { ConfirmedList } from './confirmed-list'
import { OpenOrders } from './open-orders'
import { OutsList } from './outs-list'
import { planHref, planQuery } from './plan-address'
import { PlanFanChart } from './plan-fan'
import { PlanRows } from './plan-rows'
import { TakeAlong } from './take-along'
import { WhatIf } from './what-if'

type PlanPageProps = Readonly<{
  searchParams: Promise<Record<string, string | string[] | undefined>>
}>

const MINOR = 100
const HUNDRED = 100

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('plan'))('title') }
}

export default async function SupplyPlanPage({ searchParams }: PlanPageProps) {
  const viewer = await requireViewer()
  const t = await getTranslations('plan')
  const ask = planAskOf(await searchParams)
  const page = await found(getPlan(viewer, ask))
  const zone = page.sites[0]?.zone ?? 'UTC'
  const sentence = t('looksAt', {
    days: page.fan?.left.length ?? 0,
    now: formatDayClock(page.now, { clock: viewer.clock, timeZone: zone }),
    lines: page.rows.length,
  })
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/sites" />
      <DeskPageHead title={t('title')} sentence={sentence} />
      <div className="grid grid-cols-[minmax(0,1fr)] gap-10 px-4 py-2 desk:px-8 wide:grid-cols-[320px_minmax(0,1fr)]">
        <OutsList page={page} ask={ask} />
        {page.fan ? <PlanFanChart fan={page.fan} /> : <p className="text-ink-2">{t('noGas')}</p>}
      </div>
      <section className="px-4 py-4 desk:px-8">
        <h2 className="type-section mb-1">{t('whatToDo')}</h2>
        {page.rows.length === 0 ? <p className="py-3 text-ink-2">{t('nothingToDo')}</p> : null}
        <PlanRows page={page} ask={ask} />
        <Totals page={page} ask={ask} />
        <Found page={page} ask={ask} />
      </section>
      <section className="px-4 py-4 desk:px-8">
        <h2 className="type-section mb-1 border-b-2 border-ink pb-1">{t('confirmed.title')}</h2>
        <ConfirmedList commitments={page.commitments} />
      </section>
      <section className="px-4 py-4 desk:px-8">
        <h2 className="type-section mb-1 border-b-2 border-ink pb-1">{t('open.title')}</h2>
        <OpenOrders orders={page.orders} />
      </section>
      <section className="px-4 py-4 desk:px-8">
        <h2 className="type-section mb-1 border-b-2 border-ink pb-1">{t('takeAlong')}</h2>
        <TakeAlong viewer={viewer} ask={ask} />
      </section>
      <section className="px-4 py-4 desk:px-8">
        <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('whatIf')}</h2>
        <WhatIf page={page} ask={ask} />
        <p className="mt-4 type-small text-ink-2">
          {t('rests', {
            trip: formatMoney(HOUSE.tripMinor, page.currency),
            hours: HOUSE.tripHours,
            trucks: page.trucks,
            out: formatMoney(HOUSE.runOutMinorPerDay, page.currency),
          })}
        </p>
      </section>
    </>
  )
}

type PartProps = Readonly<{ page: PlanPage; ask: PlanAsk }>

/** What the plan costs, what it is worth against doing nothing, and what somebody's changes did to it. */
async function Totals({ page, ask }: PartProps) {
  const t = await getTranslations('plan')
  const money = (minor: number) => formatAboutMoney(minor / MINOR, page.currency)
  const spent = (cost: PlanPage['cost']) => cost.total - cost.runOut
  const changed = ask.changes.length > 0
  return (
    <div className="py-3">
      <p>
        <b className="font-[650]">{t('total', { cost: money(spent(page.cost)) })}</b>{' '}
        {t('worth', {
          risk: money(page.cost.runOut),
          nothing: money(page.costNothing.runOut),
        })}
      </p>
      {changed ? (
        <p className="mt-1 border-l-4 border-cobalt pl-3" data-changed>
          {t('changedBy', {
            cost: money(spent(page.cost) - spent(page.costProposed)),
            risk: money(page.cost.runOut - page.costProposed.runOut),
          })}{' '}
          <Link className="text-cobalt underline" href={planHref(ask, { changes: [] })}>
            {t('asProposed')}
          </Link>
        </p>
      ) : null}
      {page.broken.map((one) => (
        <p key={`${one.limit}${one.at}${one.day}`} className="mt-1 text-heat">
          {t(`limit.${one.limit}`, { by: Math.ceil(one.by) })}
        </p>
      ))}
    </div>
  )
}

/** Whether a better plan is still looked for, how close this one is, or which limit has to give way. */
async function Found({ page, ask }: PartProps) {
  const t = await getTranslations('plan')
  if (page.relax.length > 0)
    return (
      <div role="status">
        <p className="font-[650] text-heat">{t('noPlan')}</p>
        {page.relax.map((one) => (
          <p key={`${one.limit}${one.at}`}>{t(`relax.${one.limit}`, { by: Math.ceil(one.by) })}</p>
        ))}
      </div>
    )
  if (!page.known.isSolved)
    return (
      <BetterPlan query={planQuery({ ...ask, changes: [], site: null, gas: null, size: null })} />
    )
  return (
    <p role="status" className="text-ink-2">
      {page.known.gap === null
        ? t('solvedUnknown')
        : t('solved', { percent: (page.known.gap * HUNDRED).toFixed(1) })}
    </p>
  )
}
