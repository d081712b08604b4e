import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { ButtonLink } from '@/app/_components/controls/button'
import type { EstimateResult, SupplyNeed } from '@/lib/calc/estimate-types'
import type { CutListEstimate } from '@/lib/data/estimates'
import type { JobDetail } from '@/lib/data/jobs'
import { formatAboutDuration } from '@/lib/format/duration'
import { formatMoney } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, withUnit } from '../figures'
import { SourceWords } from './source-words'

type Supply = Readonly<{
  job: JobDetail
  result: EstimateResult
  estimate: CutListEstimate
  fuel: string
  prefs: FormatPrefs
}>

/** Cylinders, change, manifold and cost for the cuts still to do. */
export function SupplyFacts({ job, result, estimate, fuel, prefs }: Supply) {
  const t = useTranslations('jobs')
  const toOrder = result.supply.oxygen?.cylindersToOrder ?? 0
  return (
    <section className="border-b border-rule px-4 py-3 desk:px-0">
      <h2 className="type-section mb-1">{t('supplyTitle')}</h2>
      <dl>
        <NeedFact
          name={t('gas.oxygen')}
          need={result.supply.oxygen}
          size={estimate.sizes.oxygen?.row.name}
          prefs={prefs}
        />
        <NeedFact
          name={t(`gas.${fuel}` as 'gas.propane')}
          need={result.supply.fuel}
          size={estimate.sizes.fuel?.row.name}
          prefs={prefs}
        />
        <Manifold result={result} prefs={prefs} />
        <Cost result={result} />
      </dl>
      {job.mayOrder && toOrder > 0 ? (
        <p className="mt-3">
          <ButtonLink href={`/orders?site=${job.siteId}`} isWide>
            {t('orderOxygen', { count: toOrder })}
          </ButtonLink>
        </p>
      ) : null}
    </section>
  )
}

function Fact({
  name,
  value,
  note,
}: Readonly<{ name: string; value: ReactNode; note?: ReactNode }>) {
  return (
    <div className="border-t border-rule py-2 first:border-t-0">
      <dt className="type-note text-ink-2">{name}</dt>
      <dd className="type-body">{value}</dd>
      {note ? <dd className="type-small text-ink-2">{note}</dd> : null}
    </div>
  )
}

function NeedFact({
  name,
  need,
  size,
  prefs,
}: Readonly<{
  name: string
  need: SupplyNeed | null
  size: string | undefined
  prefs: FormatPrefs
}>) {
  const t = useTranslations('jobs')
  if (!need || !size) return <Fact name={name} value={t('noSize')} />
  const change =
    need.changeAtGaugeKpa === null
      ? t('changeAtHeel', { heel: withUnit(gasAmount(need.gas, need.changeAtRemainingKg, prefs)) })
      : t('changeAt', {
          pressure: withUnit(formatQuantity('gaugePressure', need.changeAtGaugeKpa, prefs)),
        })
  const lasts = t('oneLasts', { time: formatAboutDuration(need.torchSecondsPerCylinder * 1000) })
  return (
    <Fact
      name={name}
      value={t('cylindersInAll', {
        count: need.cylindersInAll,
        size,
        order: need.cylindersToOrder,
      })}
      note={
        <>
          {change} {lasts}
        </>
      }
    />
  )
}

function Manifold({ result, prefs }: Readonly<{ result: EstimateResult; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const { withdrawal } = result
  if (!withdrawal) return null
  if (!withdrawal.ok) return <Fact name={t('manifold')} value={t('manifoldUnknown')} />
  const allowed = withUnit(formatQuantity('gasFlow', withdrawal.allowedM3PerSPerCylinder, prefs))
  return (
    <Fact
      name={t('manifold')}
      value={t('manifoldOf', { count: withdrawal.cylindersOnManifold ?? 1, allowed })}
      note={
        <>
          <SourceWords source={withdrawal.source} />
          {withdrawal.option ? ` ${t(`drawOption.${withdrawal.option}`)}` : null}
        </>
      }
    />
  )
}

function Cost({ result }: Readonly<{ result: EstimateResult }>) {
  const t = useTranslations('jobs')
  const { cost } = result
  if (!cost || (!cost.usedMinor.oxygen && !cost.usedMinor.fuel))
    return <Fact name={t('cost')} value={t('noPrices')} />
  const money = (minor: number) => formatMoney(Math.round(minor / 100) * 100, cost.currency)
  const { oxygen, fuel } = cost.usedMinor
  const parts = [
    oxygen
      ? t('costOxygen', {
          cost: money(oxygen.mean),
          low: money(oxygen.low90),
          high: money(oxygen.high90),
        })
      : null,
    fuel
      ? t('costFuel', { cost: money(fuel.mean), low: money(fuel.low90), high: money(fuel.high90) })
      : null,
  ]
  return (
    <Fact
      name={t('cost')}
      value={t('costAbout', { cost: money(cost.usedMinor.totalMean) })}
      note={
        <>
          {parts.filter(Boolean).join(' ')}{' '}
          {cost.orderMinor ? t('costOrder', { cost: money(cost.orderMinor) }) : null}{' '}
          {t('costSource')}
        </>
      }
    />
  )
}
