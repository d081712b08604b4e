import pg from 'pg'
import seedrandom from 'seedrandom'
import { checkHistory, checkRebuilt, newFleetWorld, playHistory } from '@/test/data/fleet-model'

export const name = 'Cylinders stay in one place and make no gas, whoever does what at once'

const HISTORIES = 2_000
const STEPS = 24

export async function run({ ownerUrl, runtimeUrl }: { ownerUrl: string; runtimeUrl: string }) {
  const pools = {
    owner: new pg.Pool({ connectionString: ownerUrl }),
    runtime: new pg.Pool({ connectionString: runtimeUrl, max: 8 }),
  }
  const failures: string[] = []
  let accepted = 0
  for (let i = 0; i < HISTORIES && failures.length < 20; i += 1) {
    const world = await newFleetWorld(pools.owner)
    const played = await playHistory(pools, seedrandom(`proof ${i}`), world, STEPS)
    accepted += played.accepted
    for (const wrong of await checkHistory(pools.owner, played.all))
      failures.push(`history ${i}: ${wrong}`)
  }
  failures.push(...(await checkRebuilt(pools.owner)))
  await Promise.all([pools.owner.end(), pools.runtime.end()])
  return { cases: accepted, failures }
}
