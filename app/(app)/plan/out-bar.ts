import type { LyingBar } from '@/app/_components/bar/lying-types'
import type { PlanPage } from '@/lib/data/plan/plan'
import { endOfDay } from '../sites/gas-bar'

/** As the look has it: a week, and the day on which a truck of the next may come. */
export const SHOWN_DAYS = 8
const FAR_DAYS = 30

/** Until when a gas lasts if nothing is ordered, with the real quantiles of that day. */
export function outBar({ outNothing }: PlanPage['outs'][number], todayMs: number): LyingBar {
  const at = (i: number) => endOfDay(todayMs, outNothing[i] ?? FAR_DAYS)
  return {
    state: 'running',
    end: { p05: at(0), p275: at(1), p50: at(2), p725: at(3), p95: at(4) },
  }
}
