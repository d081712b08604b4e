import type { PermitStatus } from '@/app/_components/marks/status-mark'
import type { PermitState } from '@/lib/permit/types'

/** Stopped is a fact with a time, not a state; on a screen it goes before the state. */
export function statusOf({
  state,
  isStopped,
}: Readonly<{ state: PermitState; isStopped: boolean }>): PermitStatus {
  return isStopped && (state === 'watch' || state === 'withdrawn') ? 'stopped' : state
}
