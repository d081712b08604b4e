import { useTranslations } from 'next-intl'
import { Bar } from '@/app/_components/bar/bar'
import { rangeScale } from '@/app/_components/bar/scale'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { type CutListEstimate, lasting } from '@/lib/data/estimates'
import { formatAboutDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, gasFigure, withUnit } from '../figures'

type OnSite = Readonly<{
  estimate: CutListEstimate
  side: 'oxygen' | 'fuel'
  gas: string
  prefs: FormatPrefs
}>

const WIDTH_PX = 328

/** A bar along the torch time of the list: the gas on site burns to its teeth, what is short is dashed. */
export function GasOnSite({ estimate, side, gas, prefs }: OnSite) {
  const t = useTranslations('jobs')
  const last = lasting(estimate, side)
  const torchS = estimate.result?.time.torchS ?? 0
  if (!last || torchS <= 0) return null
  const { usableKg, cylinders } = estimate.onHand[side]
  const isShort = last.shortKg.high90 > 0
  const until = Math.max(torchS, Math.min(last.p95S, torchS * 1.5))
  const end = { p05: last.p05S, p275: last.p275S, p50: last.p50S, p725: last.p725S, p95: last.p95S }
  const amount = withUnit(gasAmount(gas, usableKg, prefs))
  const time = formatAboutDuration(Math.min(last.p50S, torchS) * 1000)
  const name = t(`gasMid.${gas}` as 'gasMid.oxygen')
  const isEnough = last.p05S >= torchS
  return (
    <div className="px-4 pt-3 desk:px-0">
      {cylinders > 0 && !(isEnough && side === 'fuel') ? (
        <div className="py-1">
          <Bar
            size="row"
            now={0}
            scale={rangeScale({ from: 0, to: until * 1.01, widthPx: WIDTH_PX })}
            bar={{ state: 'shut', end, ...(isShort ? { shortUntil: torchS } : {}) }}
          />
        </div>
      ) : null}
      <div className="mt-1 grid max-w-[480px] grid-cols-[1fr_auto] items-baseline gap-x-3 text-ink-2">
        <span className="type-body">
          {isEnough
            ? t('onSiteEnough', { amount, gas: name })
            : cylinders > 0
              ? t(side === 'oxygen' ? 'onSiteLasts' : 'gasOnSiteLasts', { amount, gas: name, time })
              : t('noneOnSite', { gas: name })}
        </span>
        <span className="type-body text-right">
          {isShort ? <Short gas={gas} short={last.shortKg} prefs={prefs} /> : null}
        </span>
        <span className="type-note">{countedTo(estimate, side, gas, prefs, t)}</span>
        <span className="type-note text-right">
          {isShort ? (
            <ShortCylinders estimate={estimate} side={side} gas={gas} prefs={prefs} />
          ) : null}
        </span>
      </div>
    </div>
  )
}

function countedTo(
  estimate: CutListEstimate,
  side: 'oxygen' | 'fuel',
  gas: string,
  prefs: FormatPrefs,
  t: ReturnType<typeof useTranslations<'jobs'>>,
): string {
  const choice = estimate.sizes[side]
  if (!choice) return ''
  const { changeAtGaugeKpa, reserveKg } = choice.reserve
  return side === 'oxygen' && changeAtGaugeKpa !== null
    ? t('countedToPressure', {
        pressure: withUnit(formatQuantity('gaugePressure', changeAtGaugeKpa, prefs)),
      })
    : t('countedToHeel', { heel: withUnit(gasAmount(gas, reserveKg, prefs)) })
}

type ShortOf = Readonly<{
  gas: string
  short: { mean: number; low90: number; high90: number }
  prefs: FormatPrefs
}>

function Short({ gas, short, prefs }: ShortOf) {
  const t = useTranslations('jobs')
  const { mean, high90 } = short
  const figure = gasAmount(gas, mean > 0 ? mean : high90, prefs)
  return (
    <span className="trouble">
      <AnswerMark name="short" />
      {t(mean > 0 ? 'short' : 'mayBeShort', { amount: withUnit(figure) })}
    </span>
  )
}

function ShortCylinders({ estimate, side, gas, prefs }: OnSite) {
  const t = useTranslations('jobs')
  const last = lasting(estimate, side)
  const need = estimate.result?.supply[side]
  if (!last) return null
  const { mean, low90, high90 } = last.shortKg
  const { interval } = gasFigure(gas, { meanKg: mean, low90Kg: low90, high90Kg: high90 }, prefs)
  return (
    <span className="trouble">
      {need ? t('shortCylinders', { interval, count: need.cylindersToOrder }) : interval}
    </span>
  )
}
