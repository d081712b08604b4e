import pg from 'pg'
import { liveThem } from '@/test/lives/life'

export const name = 'No life of a permit breaks what must hold, whoever does what at once'

const LIVES = 10_000
const A_TIME = 100

/** One after the other, in batches that say how far it has come. */
export async function run(context: {
  ownerUrl: string
  runtimeUrl: string
  say: (text: string) => void
}) {
  const options = '-c timezone=UTC'
  const owner = new pg.Pool({ connectionString: context.ownerUrl, options, max: 20 })
  const runtime = new pg.Pool({ connectionString: context.runtimeUrl, options, max: 20 })
  const failures: string[] = []
  let cases = 0
  for (let batch = 0; batch < LIVES / A_TIME && failures.length === 0; batch += 1) {
    try {
      const wanted = { lives: A_TIME, mostCommands: 60, seed: 4_000 + batch }
      const told = await liveThem({ owner, runtime }, wanted)
      cases += told.lives
      context.say(`${cases} lives: ${JSON.stringify(told.ended)}`)
    } catch (error) {
      failures.push(String(error))
    }
  }
  await Promise.all([owner.end(), runtime.end()])
  return { cases, failures }
}
