import { watchProgress } from '@/lib/permit/watch'
import { openChance } from '@/seed/random'

export const name = 'The watch counts as a clock that is walked minute by minute'

const CASES = 1_000_000
const MS_PER_MIN = 60_000
const START_MS = Date.UTC(2026, 0, 5, 6)

interface Case {
  watchMin: number
  intervalMin: number
  nowMin: number
  present: readonly boolean[]
  roundsMin: readonly number[]
}

/** The same definition without spans or sets: every minute is asked whether it counts. */
function walk({ watchMin, intervalMin, nowMin, present, roundsMin }: Case): {
  credit: number
  isDone: boolean
} {
  let anchor = 0
  let slot = 1
  const unproven = new Set<number>()
  let credit = 0
  for (let minute = 0; minute <= nowMin; minute += 1) {
    for (const round of roundsMin) {
      const due = anchor + slot * intervalMin
      if (round !== minute || round < due - 2) continue
      if (round - due >= intervalMin) {
        anchor = round
        slot = 1
        unproven.clear()
        continue
      }
      for (let late = due; late < round; late += 1) unproven.add(late)
      slot += 1
    }
    const due = anchor + slot * intervalMin
    credit = 0
    for (let past = anchor; past < minute; past += 1) {
      if (present[past] && !unproven.has(past) && past < due) credit += 1
    }
    if (minute - due >= intervalMin) credit = 0
    if (credit >= watchMin) return { credit: watchMin, isDone: true }
  }
  return { credit, isDone: false }
}

function makeCase(chance: () => number): Case {
  const upTo = (limit: number) => Math.floor(chance() * limit)
  const nowMin = 5 + upTo(80)
  const stays = 0.6 + 0.4 * chance()
  const makes = 0.5 + 0.5 * chance()
  const intervalMin = 3 + upTo(8)
  // People come and go seldom, and rounds cluster about the due times: most cases must be near an edge.
  let isThere = chance() < stays
  const present = Array.from({ length: nowMin }, () => {
    if (chance() < 0.04) isThere = chance() < stays
    return isThere
  })
  const dues = Array.from(
    { length: Math.ceil(nowMin / intervalMin) },
    (_, index) => (index + 1) * intervalMin,
  )
  const roundsMin = dues
    .filter(() => chance() < makes)
    .map((due) => due - 3 + upTo(chance() < 0.8 ? 5 : intervalMin + 4))
    .filter((minute) => minute >= 0 && minute <= nowMin)
    .sort((a, b) => a - b)
  return { watchMin: 1 + upTo(50), intervalMin, nowMin, present, roundsMin }
}

function presenceSpans(present: readonly boolean[]) {
  return present.flatMap((isThere, minute) =>
    isThere
      ? [
          {
            from: new Date(START_MS + minute * MS_PER_MIN),
            to: new Date(START_MS + (minute + 1) * MS_PER_MIN),
          },
        ]
      : [],
  )
}

export async function run() {
  const chance = openChance('watch proof').unit
  const failures: string[] = []
  for (let index = 0; index < CASES; index += 1) {
    const one = makeCase(chance)
    const counted = watchProgress({
      torchOutAt: new Date(START_MS),
      watchMin: one.watchMin,
      roundIntervalMin: one.intervalMin,
      presence: presenceSpans(one.present),
      roundsAt: one.roundsMin.map((minute) => new Date(START_MS + minute * MS_PER_MIN)),
      now: new Date(START_MS + one.nowMin * MS_PER_MIN),
    })
    const walked = walk(one)
    if (counted.creditMs !== walked.credit * MS_PER_MIN || counted.done !== walked.isDone) {
      failures.push(JSON.stringify({ one, walked, creditMs: counted.creditMs, done: counted.done }))
    }
  }
  return { cases: CASES, failures }
}
