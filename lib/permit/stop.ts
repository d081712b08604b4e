import { stateReasons } from './issue'
import { isQualified, reason, verdict } from './reasons'
import type { PermitFacts, PersonFact, Verdict } from './types'

type StopFacts = Pick<PermitFacts, 'state' | 'stopPressedAt' | 'stoppedAt' | 'validUntil'>

/**
 * Stop work. Anybody may, at any time before the end: there is no person to check. The first press
 * holds at once; only a second makes it final.
 */
export function mayStop(facts: StopFacts): Verdict<{ step: 'hold' | 'final' }> {
  const checked = verdict([
    ...stateReasons(facts.state, ['preparing', 'cleared', 'open', 'held', 'watch']),
    facts.stoppedAt ? reason('permit_stopped', { whenAt: facts.stoppedAt.getTime() }) : null,
  ])
  if (!checked.ok) return checked
  return { ok: true, step: facts.stopPressedAt === null ? 'hold' : 'final' }
}

export interface GoBackInput {
  facts: StopFacts & Pick<PermitFacts, 'operatorId'>
  person: PersonFact
  isForeman: boolean
  day: string
}

/** "Not stopped, go back": the operator or a foreman takes the first press back; it stays held until a new look. */
export function mayGoBack({ facts, person, isForeman, day }: GoBackInput): Verdict {
  const isOperator = person.id === facts.operatorId && isQualified(person, 'torch_operator', day)
  return verdict([
    ...stateReasons(facts.state, ['held']),
    facts.stoppedAt ? reason('permit_stopped', { whenAt: facts.stoppedAt.getTime() }) : null,
    facts.stopPressedAt === null ? reason('stop_not_pressed') : null,
    isForeman || isOperator
      ? null
      : reason('not_qualified', { person: person.name, kind: 'torch_operator' }),
  ])
}
