import type { LyingBar } from '@/app/_components/bar/lying-types'
import type { FleetGas } from '@/lib/data/fleet'
import { HORIZON_DAYS } from '@/lib/data/forecast-horizon'

const DAY_MS = 86_400_000

/** The end of a day counted from today = 1. */
export const endOfDay = (todayMs: number, day: number) => todayMs + day * DAY_MS

const MARGIN_MS = 300_000

/** So many days from now; a little before, for the browser's clock may stand behind the page's. */
export const daysFrom = (now: Date, days: number) => ({
  fromMs: now.getTime() - MARGIN_MS,
  toMs: endOfDay(now.getTime(), days),
})

/** How long the gas of a site lasts: real quantiles of the day on which it runs short. */
export function gasBar(
  {
    forecast,
    lastPlannedDay,
    stockCylinders,
  }: Pick<FleetGas, 'forecast' | 'lastPlannedDay' | 'stockCylinders'>,
  todayMs: number,
): LyingBar {
  const at = (probability: number) => {
    const found = forecast.shortDayQuantiles.find((one) => one.probability === probability)
    return endOfDay(todayMs, found?.day ?? HORIZON_DAYS + 1)
  }
  const end = { p05: at(0.05), p275: at(0.275), p50: at(0.5), p725: at(0.725), p95: at(0.95) }
  if (stockCylinders <= 0 && forecast.daysUntilShort === null) return { state: 'no-reading' }
  const planned = lastPlannedDay === null ? null : endOfDay(todayMs, lastPlannedDay)
  const isShort = forecast.daysUntilShort !== null && planned !== null && planned > end.p95
  return { state: 'running', end, ...(isShort ? { shortUntil: planned } : {}) }
}
