import 'server-only'
import { AppError, type Reason } from '@/lib/errors'
import type { LocalProblem } from '@/lib/rules/local'
import type { Trial } from '@/lib/rules/trial'

/** Throws every problem of what was typed in at once. */
export function refuseRules(
  problems: readonly LocalProblem[],
  loosened: Trial['loosened'] = [],
): void {
  const reasons: Reason[] = [
    ...problems.map(({ code, params, field }) => ({ code, params: { ...params, field } })),
    ...loosened.flatMap(({ probeId, what }) =>
      what.map((one) => ({ code: 'loosens', params: { probe: probeId, what: one } })),
    ),
  ]
  if (reasons.length > 0) throw new AppError('RULES_REFUSED', { count: reasons.length }, reasons)
}
