'use client'

import { useMemo } from 'react'
import { useServerNow } from '@/app/_components/live/server-now'
import type { RoundMade, WatchFacts } from '@/lib/data/watch/view'
import { progressAt, watchSlots } from './watch-slots'

/** The watch as it stands this minute, and each second in the minute before something is due. */
export function useWatch(facts: WatchFacts, rounds: readonly RoundMade[]) {
  const minuteMs = useServerNow()
  const soonMs = useMemo(() => nextMoment(facts, minuteMs), [facts, minuteMs])
  const nowMs = useServerNow(soonMs)
  return useMemo(() => {
    const progress = progressAt(facts, nowMs)
    return { nowMs, progress, ...watchSlots({ facts, rounds, progress, nowMs }) }
  }, [facts, rounds, nowMs])
}

/** When the screen changes next by itself: a round opens, or the watch ends. */
function nextMoment(facts: WatchFacts, nowMs: number): number | undefined {
  const progress = progressAt(facts, nowMs)
  const moments = [progress.nextOpensAt, progress.endsAtIfWatched].flatMap((at) =>
    at && at.getTime() > nowMs ? [at.getTime()] : [],
  )
  return moments.length > 0 ? Math.min(...moments) : undefined
}
