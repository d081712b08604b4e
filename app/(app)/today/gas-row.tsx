import { useTranslations } from 'next-intl'
import type { LyingBar } from '@/app/_components/bar/lying-types'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar } from '@/app/_components/live/live-bar'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { TimeRow } from '@/app/_components/row'
import type { OutfitSide } from '@/lib/data/outfits-contents'
import { formatClock, formatClockRange, formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, withUnit } from '../jobs/figures'

export type GasToday = Readonly<{
  side: OutfitSide
  outfitNumber: string
  isBurning: boolean
  href: string
}>
type RowProps = Readonly<{ gas: GasToday; now: Date; prefs: FormatPrefs }>

const ms = (date: Date) => date.getTime()
const FAR_MS = 30 * 86_400_000

/** Until when the side lasts, with the real quantiles; past the cuts to do it is simply past today. */
function endOf({ change }: OutfitSide, nowMs: number) {
  if (!change) return null
  const at = (chance: number) => {
    const tooth = change.teeth.find((one) => one.chance === chance)
    return tooth ? ms(tooth.at) : nowMs + FAR_MS
  }
  return { p05: ms(change.low), p275: at(0.275), p50: at(0.5), p725: at(0.725), p95: at(0.95) }
}

export function gasBar({ side, isBurning }: GasToday, nowMs: number): LyingBar {
  const end = endOf(side, nowMs)
  if (!side.contents || side.cylinders.length === 0) return { state: 'no-reading' }
  if (!end) return { state: 'shut', end: nowMs + FAR_MS }
  const short =
    side.change && side.change.shortKg.mean > 0 ? { shortUntil: ms(side.change.neededUntil) } : {}
  return isBurning ? { state: 'running', end, ...short } : { state: 'shut', end, ...short }
}

/** When this side has to be changed, by the middle of what is known; null when nothing tells. */
export const gasEndsMs = ({ side }: GasToday): number | null =>
  side.change ? ms(side.change.middle) : null

/** One side of an outfit on the site's axis: change by when, how sure, and what is short of the cuts to do. */
export function GasRow({ gas, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const v = useTranslations('permit.vessel')
  const { side } = gas
  const title = t('gasTitle', {
    gas: v(`gas.${side.gasId}` as 'gas.oxygen'),
    outfit: gas.outfitNumber,
  })
  const endMs = gasEndsMs(gas)
  return (
    <TimeRow
      href={gas.href}
      mark={<AnswerMark name="cylinder" />}
      title={title}
      left={
        endMs === null ? (
          <span className="type-note text-ink-2">
            {gas.side.cylinders.length === 0 ? t('noneOn') : t('notRead')}
          </span>
        ) : (
          <Countdown untilMs={endMs} what={title} isAbout />
        )
      }
      bar={<LiveBar bar={gasBar(gas, ms(now))} size="row" />}
      note={<ChangeWords gas={gas} now={now} prefs={prefs} />}
      aside={<ShortOrDraw gas={gas} prefs={prefs} />}
      second={
        <>
          <Interval gas={gas} now={now} prefs={prefs} />
          <OfTheCuts gas={gas} />
        </>
      }
    />
  )
}

const isToday = (at: Date, now: Date, prefs: FormatPrefs) =>
  formatWhen(at, now, prefs) === formatClock(at, prefs)

export function ChangeWords({ gas, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const { change, changeAtGaugeKpa, cylinders } = gas.side
  if (cylinders.length === 0) return t('noneOn')
  if (!change) return gas.side.contents ? t('noCutsLeft') : t('notRead')
  if (!isToday(change.middle, now, prefs)) return t('pastToday')
  const time = formatClock(change.middle, prefs)
  return changeAtGaugeKpa === null
    ? t('changeBy', { time })
    : t('changeByAt', {
        time,
        pressure: withUnit(formatQuantity('gaugePressure', changeAtGaugeKpa, prefs)),
      })
}

export function Interval({ gas, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const { change } = gas.side
  if (!change || !isToday(change.middle, now, prefs)) return null
  if (!change.high || !isToday(change.high, now, prefs))
    return <span>{t('notBefore', { time: formatClock(change.low, prefs) })}</span>
  return <span>{t('nineInTen', { range: formatClockRange(change.low, change.high, prefs) })}</span>
}

const isShort = ({ change }: OutfitSide) => change !== null && change.shortKg.mean > 0

/** The rest of "83 ft³ short": a phone has no room for it on one line. */
export function OfTheCuts({ gas }: Readonly<{ gas: GasToday }>) {
  const t = useTranslations('today')
  return isShort(gas.side) ? <span className="trouble">{t('ofTheCuts')}</span> : null
}

export function ShortOrDraw({ gas, prefs }: Omit<RowProps, 'now'>) {
  const t = useTranslations('today')
  const { change, draw, gasId } = gas.side
  if (change && change.shortKg.mean > 0)
    return (
      <span className="trouble">
        <AnswerMark name="short" />
        {t('short', { amount: withUnit(gasAmount(gasId, change.shortKg.mean, prefs)) })}
      </span>
    )
  if (!draw) return null
  const used = formatQuantity('gasFlow', draw.m3PerS, prefs)
  const allowed = formatQuantity('gasFlow', draw.allowedM3PerS, prefs)
  const words = t('draw', { used: used.value, allowed: allowed.value, unit: allowed.unit })
  return draw.m3PerS > draw.allowedM3PerS ? (
    <span className="text-heat">{words}</span>
  ) : (
    <span className="font-normal text-ink-2">{words}</span>
  )
}
