import type { PermitFacts, SignatureAct } from './types'

/** What one person may sign, or sign on to, under a permit at this moment. */
export type OwnPart = SignatureAct | 'brief'

export interface OwnPartInput {
  facts: Pick<
    PermitFacts,
    | 'state'
    | 'operatorId'
    | 'fireWatchId'
    | 'signatures'
    | 'watchStints'
    | 'operatorStints'
    | 'finalLookAt'
    | 'stoppedAt'
    | 'linked'
    | 'lone'
    | 'isPaiWatchAllowed'
  >
  personId: string
  /** Whether they are a PAI of the site. */
  isPai: boolean
  /** Whether they are qualified today to supervise an entry. */
  isEntrySupervisor?: boolean
  isBriefed: boolean
}

const RUNNING = ['cleared', 'open', 'held', 'watch'] as const

/** The parts that are this person's in the state that it is in, in the order of the standards: who cuts, who watches, who issues. */
export function ownParts({
  facts,
  personId,
  isPai,
  isEntrySupervisor = false,
  isBriefed,
}: OwnPartInput): OwnPart[] {
  const { state, operatorId, fireWatchId, signatures, finalLookAt } = facts
  const has = (act: SignatureAct, by: string | null) =>
    signatures.some((one) => one.act === act && one.personId === by)
  const agreed = has('agree', operatorId)
  const acknowledged = fireWatchId === null || has('acknowledge', fireWatchId)
  const isEntered = !facts.linked?.entry || signatures.some((one) => one.act === 'enter')
  // Nobody authorizes their own work.
  const mayAuthorize =
    isPai &&
    personId !== operatorId &&
    facts.operatorStints.every((stint) => stint.personId !== personId)
  const isApart =
    personId !== fireWatchId || Boolean(facts.lone) || facts.isPaiWatchAllowed === true
  const stood = facts.watchStints.some((stint) => stint.personId === personId)
  const signedOff =
    finalLookAt !== null &&
    signatures.some((one) => one.act === 'final_watch' && one.signedAt >= finalLookAt)
  const isLooked = state === 'watch' && finalLookAt !== null
  const due: Readonly<Record<OwnPart, boolean>> = {
    agree: state === 'cleared' && personId === operatorId && !agreed,
    acknowledge: state === 'cleared' && personId === fireWatchId && agreed && !acknowledged,
    enter: state === 'cleared' && isEntrySupervisor && agreed && acknowledged && !isEntered,
    issue: state === 'cleared' && mayAuthorize && isApart && agreed && acknowledged && isEntered,
    resume: state === 'held' && mayAuthorize,
    go_back: state === 'watch' && !isLooked && mayAuthorize && facts.stoppedAt === null,
    final_watch: isLooked && stood && !signedOff,
    final_pai: isLooked && mayAuthorize && (signedOff || facts.watchStints.length === 0),
    brief: RUNNING.some((one) => one === state) && !isBriefed,
  }
  return (Object.keys(due) as OwnPart[]).filter((part) => due[part])
}
