import { quantile } from './distributions'
import { USUAL_FALSE_ALARM } from './gross-error-global'
import { type Likelihood, likelihoodOf } from './gross-error-likelihood'
import { type Explained, explain, lessOf, type Rest, ratioOf, restOf } from './gross-error-serial'
import {
  type Candidate,
  outfitCandidates,
  readingAt,
  readingCandidates,
  standingCandidates,
} from './hypotheses-candidates'
import { type Evidence, evidenceOf } from './hypotheses-evidence'
import { SETTLED_BY } from './hypotheses-priors'
import { swapCandidates } from './hypotheses-swaps'
import { openTrail, type TrailSystem } from './hypotheses-system'
import type { Finding, Hypothesis, Trail } from './hypotheses-types'
import { sparseDot } from './reconcile-form'

/** Causes looked into of one trail at most; a company with more has to mend its records first. */
const MOST_FINDINGS = 60
/** Causes shown of one finding. */
const MOST_HYPOTHESES = 6
/** Share of what a cause explains that another also does, above which they are told as one finding. Own choice. */
const SAME_MATTER = 0.5
/** Shares this near to the whole are the whole. */
const SAME_SHARE = 1e-6

/** What no cause reaches at first may still come out once another is taken, but rarely: half is far enough. */
const REACHED = 0.5

/** A cause with what the balances say of it now. */
type Weighed = { candidate: Candidate; likelihood: Likelihood; evidence: Evidence; odds: number }

type Looked = { trail: Trail; opened: TrailSystem }

export type Explanation = {
  findings: Finding[]
  /** The statistic that a cause has to pass, so that the rate of false findings holds over all causes. */
  critical: number
  causes: number
  opened: TrailSystem
}

/**
 * What explains best where a record does not balance, in the trade's words.
 *
 * Causes are weighed by what the balances gain, each size believed beforehand where it can be known: a full
 * cylinder less what was left, digits that change places, a loss that goes on day by day. The most probable
 * of those that chance would not reach is taken as an unknown of its own and the rest looked at again.
 *
 * @param trail readings and work of one gas
 * @param falseAlarm chance of any false finding in a record where nothing is wrong, in (0, 1)
 * @returns findings, the surest first, each with all causes that fit the same facts; never one culprit
 *   where the balances can't tell
 * @throws {CalcError} as `openTrail`
 * @source generalised likelihood ratio with serial compensation (`compensateSerially`); priors of causes and
 *   sizes: own choice, `CAUSE_PRIORS`
 */
export function explainTrail(trail: Trail, falseAlarm = USUAL_FALSE_ALARM): Explanation {
  const opened = openTrail(trail)
  const { system } = opened
  const { likely, causes } = considered(trail, opened, criticalFor(falseAlarm))
  const critical = criticalFor(falseAlarm / Math.max(1, causes))
  const explained: Explained[] = []
  const findings: Finding[] = []
  let open = likely.flatMap(({ candidate, likelihood }) =>
    likelihood.statistic > REACHED * critical ? [weigh(candidate, restOf(likelihood))] : [],
  )
  while (explained.length < Math.min(MOST_FINDINGS, system.size)) {
    const weighed = open.flatMap((one) => one.weighed ?? [])
    const best = weighed
      .filter((one) => one.likelihood.statistic > critical)
      .reduce<Weighed | null>((top, one) => (top && top.odds >= one.odds ? top : one), null)
    if (!best) break
    const own = explain(system, best.candidate.signature, explained)
    const finding = findingOf({ trail, opened }, best, weighed, own)
    if (finding.chance <= falseAlarm) findings.push(finding)
    explained.push(own)
    // Few causes touch the one that was taken: the others stand as they were.
    open = open.map((one) => {
      const rest = lessOf(one.rest, one.candidate.signature, own)
      return rest === one.rest ? one : weigh(one.candidate, rest)
    })
  }
  return { findings, critical, causes, opened }
}

const criticalFor = (level: number) => quantile({ family: 'chi-square', dof: 1 }, 1 - level)

/**
 * Every cause that a trail could have, and those of them that might pass: one in thousands, so that the others
 * are let go at once.
 *
 * @param alone statistic that a cause would have to pass if it were the only one
 */
function considered(trail: Trail, opened: TrailSystem, alone: number) {
  const likely: { candidate: Candidate; likelihood: Likelihood }[] = []
  let causes = 0
  for (const candidates of [
    readingCandidates,
    outfitCandidates,
    standingCandidates,
    swapCandidates,
  ])
    for (const candidate of candidates(trail, opened)) {
      const likelihood = likelihoodOf(opened.system, candidate.signature)
      if (!likelihood) continue
      causes += 1
      if (likelihood.statistic > REACHED * alone) likely.push({ candidate, likelihood })
    }
  return { likely, causes }
}

/** A cause with what those taken before leave of it; nothing to weigh where they explain all. */
type Open = { candidate: Candidate; rest: Rest; weighed: Weighed | null }

function weigh(candidate: Candidate, rest: Rest): Open {
  const likelihood = ratioOf(rest)
  if (!likelihood) return { candidate, rest, weighed: null }
  const evidence = evidenceOf(likelihood, candidate.detail().priors)
  const odds = Math.log(candidate.belief) + evidence.logRatio
  return { candidate, rest, weighed: { candidate, likelihood, evidence, odds } }
}

/** All causes that explain what the best one does, the same kind about the same cylinders only once. */
function findingOf(
  looked: Looked,
  best: Weighed,
  weighed: readonly Weighed[],
  own: Explained,
): Finding {
  const share = sharedWith(own)
  const alike = weighed
    .filter((one) => one === best || share(one) >= SAME_MATTER)
    .sort((a, b) => b.odds - a.odds)
  const seen = new Set<string>()
  const named = alike.filter(({ candidate: { kind, detail } }) => {
    const { subject } = detail()
    const key = [
      kind,
      ...subject.cylinderIds,
      kind === 'reading_mistyped' ? subject.fromMs : '',
    ].join(' ')
    if (seen.has(key)) return false
    seen.add(key)
    return true
  })
  const shown = named.slice(0, MOST_HYPOTHESES)
  const top = Math.max(0, best.odds)
  const total = Math.exp(-top) + shown.reduce((sum, one) => sum + Math.exp(one.odds - top), 0)
  return {
    hypotheses: shown.map((one) =>
      toHypothesis(looked, one, {
        probability: Math.exp(one.odds - top) / total,
        isEqualFirst: share(one) > 1 - SAME_SHARE,
      }),
    ),
    chance: Math.exp(-top) / total,
  }
}

/** Squared cosine between what two causes explain. */
const sharedWith =
  ({ solved }: Explained) =>
  (other: Weighed): number =>
    sparseDot(other.candidate.signature, solved) ** 2 * other.likelihood.sizeVariance

function toHypothesis(
  { trail, opened }: Looked,
  { candidate, likelihood, evidence }: Weighed,
  standing: Pick<Hypothesis, 'probability' | 'isEqualFirst'>,
): Hypothesis {
  const { kind, kgPerUnit, signature } = candidate
  const { hows, subject } = candidate.detail()
  const [reading] = trail.readings.filter((one) => one.id === subject.readingIds[0])
  const isReading = kind === 'reading_mistyped' || kind === 'short_fill'
  return {
    ...subject,
    ...standing,
    kind,
    how: hows[evidence.best] ?? null,
    sizeKg: evidence.size * kgPerUnit,
    standardUncertaintyKg: evidence.sd * kgPerUnit,
    statistic: likelihood.statistic,
    settledBy: SETTLED_BY[kind],
    meant:
      isReading && reading
        ? { readingId: reading.id, contentsKg: Math.max(0, reading.gasKg - evidence.size) }
        : null,
    explains: isReading
      ? []
      : signature.map(({ balance, effect }) => ({
          readingId: readingAt(trail, opened.stretches[balance]?.ends[0] ?? 0).id,
          kg: effect * evidence.size,
        })),
  }
}
