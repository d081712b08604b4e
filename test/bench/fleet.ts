import { withClient } from '@/bin/lib/database.mjs'
import { HUNDREDTH, loadedDatabase } from './load/fill'
import { ACTS, type ActName, type FleetProcess, openFleet } from './measure/fleet-ask'
import { inTurn, percentile } from './measure/interleave'

export const name = 'The fleet with 100,000 cylinders and 1,000,000 events, beside bare SQL'

const TIMES = 60
const WARM_UP = 6
const MOST_TIMES_BARE = 2
/** From 10,000 events to 1,000,000. */
const MOST_TIMES_SMALL = 1.5
const IMPORTED = 100_000
/** What may live on at any time while a file is kept and taken in, over what lived before. */
const MOST_GROWTH_MB = 40

const WORDS: Record<ActName, string> = {
  list: 'list',
  filter: 'filter by gas and status',
  search: 'search by part of a serial',
  swap: 'swap',
  history: 'history',
}

interface Context {
  serverUrl: string
  template: string
  say: (text: string) => void
}
type Figure = Readonly<{ value: number; unit: string; aim: string; holds: boolean }>

const tenth = (value: number) => Math.round(value * 10) / 10
const hundredth = (value: number) => Math.round(value * 100) / 100
const ratio = (value: number, most: number): Figure => ({
  value: hundredth(value),
  unit: 'times',
  aim: `at most ${most}`,
  holds: value <= most,
})

/** The app, bare statements, and the app on a hundredth of the records, in turn; middles of each. */
async function measure(
  act: ActName,
  whole: FleetProcess,
  small: FleetProcess,
): Promise<Record<string, Figure>> {
  const acts = [
    () => whole.time(act, 'ours'),
    () => whole.time(act, 'bare'),
    () => small.time(act, 'ours'),
    // As many swaps here as there: what is looked at has as long a history.
    () => small.time(act, 'bare'),
  ]
  await inTurn(WARM_UP, acts)
  const took = await inTurn(TIMES, acts)
  const [ours = 0, bare = 0, less = 0] = took.map((ms) => percentile(ms, 50))
  const is = `Fleet, ${WORDS[act]}`
  return {
    [`${is}: beside bare SQL (${tenth(ours)} ms beside ${tenth(bare)} ms)`]: ratio(
      ours / bare,
      MOST_TIMES_BARE,
    ),
    [`${is}: beside a hundredth of the records (${tenth(less)} ms)`]: ratio(
      ours / less,
      MOST_TIMES_SMALL,
    ),
  }
}

/** A whole file, beside a tenth of it: memory that grows with the file would show in both. */
async function measureImport(fleet: FleetProcess): Promise<Record<string, Figure>> {
  const tenthOf = await fleet.import(IMPORTED / 10, 'WARM')
  const { done, seconds, keptMb, grownMb } = await fleet.import(IMPORTED, 'BENCH')
  const most = Math.max(keptMb, grownMb)
  const before = Math.max(tenthOf.keptMb, tenthOf.grownMb)
  return {
    [`Fleet, import of ${IMPORTED} cylinders (${Math.round(seconds)} s): memory that it grows by (of a tenth: ${tenth(before)} MB)`]:
      {
        value: tenth(most),
        unit: 'MB',
        aim: `at most ${MOST_GROWTH_MB}`,
        holds: done === IMPORTED && most <= MOST_GROWTH_MB,
      },
  }
}

export async function run(context: Context) {
  const smallUrl = await loadedDatabase(context, context.say, HUNDREDTH)
  const wholeUrl = await loadedDatabase(context, context.say)
  const [small, whole] = [await openFleet(smallUrl), await openFleet(wholeUrl)]
  try {
    const figures: Record<string, Figure> = {}
    for (const act of ACTS) {
      // As autovacuum would have by now: the swaps before wrote the first entries of the record.
      for (const url of [smallUrl, wholeUrl])
        await withClient(url, (client) => client.query('ANALYZE audit_entries'))
      Object.assign(figures, await measure(act, whole, small))
      context.say(`${WORDS[act]} done`)
    }
    return { ...figures, ...(await measureImport(whole)) }
  } finally {
    small.stop()
    whole.stop()
  }
}
