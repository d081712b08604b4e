import pg from 'pg'
import { liveOne } from './life'

/** Lives the lives of the numbers given, one after the other, and tells the process that began it of each. */

const MOST_COMMANDS = 60
const [from, until] = process.argv.slice(2).map(Number)
const options = '-c timezone=UTC'
const pool = (connectionString: string | undefined) =>
  new pg.Pool({ connectionString: connectionString ?? '', options, max: 20 })
const pools = {
  owner: pool(process.env.DATABASE_URL),
  runtime: pool(process.env.KERFWATCH_DATABASE_URL),
}
process.on('disconnect', () => process.exit(1)) // nobody is left to tell

const tell = (told: object) =>
  new Promise<void>((resolve) => process.send?.(told, () => resolve()) ?? resolve())

for (let number = from ?? 0; number < (until ?? 0); number += 1) {
  try {
    await tell({ number, ended: await liveOne(pools, number, MOST_COMMANDS) })
  } catch (error) {
    await tell({ number, failure: String(error) })
  }
}
process.exit(0)
