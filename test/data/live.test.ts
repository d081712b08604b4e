import { expect, test } from 'vitest'
import { liveSince, onCommitted } from '@/lib/data/live'
import { holdPermit } from '@/lib/data/permits/hold'
import { holdPermitSchema } from '@/lib/schemas/permit'
import { type BuiltPermit, buildOpenPermit } from '../../seed/builders/permits'
import { databaseNow } from '../../seed/play'
import { testDatabase } from '../setup/database'
import { formOn, viewersOf } from './permit-world'

const hold = async (built: BuiltPermit) =>
  holdPermit(
    viewersOf(built).operator,
    holdPermitSchema.parse({
      ...(await formOn(built.permit.id)),
      torchOut: 'yes',
      valvesShut: 'yes',
      gasOffOutside: 'yes',
      reason: 'Lunch',
    }),
  )

test('what is committed at a site is told to whoever may read that site, and to nobody else', async () => {
  const { owner } = testDatabase()
  const [mine, theirs] = [await buildOpenPermit(owner), await buildOpenPermit(owner)]
  const told = { mine: 0, theirs: 0 }
  const leave = [
    onCommitted(viewersOf(mine).fireWatch, () => {
      told.mine += 1
    }),
    onCommitted(viewersOf(theirs).fireWatch, () => {
      told.theirs += 1
    }),
  ]
  await liveSince(viewersOf(mine).fireWatch, null) // from here on it listens
  await hold(mine)
  await expect.poll(() => told.mine).toBeGreaterThan(0)
  expect(told.theirs).toBe(0)
  for (const done of leave) done()
  const before = told.mine
  await hold(theirs)
  await new Promise((resolve) => setTimeout(resolve, 100))
  expect(told).toEqual({ mine: before, theirs: 0 })
})

test('a stream that begins is behind when something was committed after what its page shows', async () => {
  const { owner } = testDatabase()
  const built = await buildOpenPermit(owner)
  const other = await buildOpenPermit(owner)
  const { fireWatch } = viewersOf(built)
  await testDatabase().setClock(60_000) // what was built is a minute old now
  const drawnMs = await databaseNow(owner)
  expect(await liveSince(fireWatch, drawnMs)).toMatchObject({ isBehind: false })
  await hold(other)
  expect(await liveSince(fireWatch, drawnMs)).toMatchObject({ isBehind: false })
  await hold(built)
  const after = await liveSince(fireWatch, drawnMs)
  expect(after.isBehind).toBe(true)
  expect(Math.abs(after.nowMs - (await databaseNow(owner)))).toBeLessThan(5_000)
  expect(await liveSince(fireWatch, null)).toMatchObject({ isBehind: false })
})
