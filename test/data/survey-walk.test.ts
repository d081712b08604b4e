import { v7 as uuidv7 } from 'uuid'
import { beforeEach, expect, test } from 'vitest'
import { answerClearance, clearPermit } from '@/lib/data/permits/clearance'
import { getClearance } from '@/lib/data/permits/clearance-view'
import { keepPicture } from '@/lib/data/pictures/pictures'
import { clearanceAnswerSchema, permitStepSchema } from '@/lib/schemas/permit'
import { pictureSchema } from '@/lib/schemas/picture'
import { buildWorksite, type Worksite } from '../../seed/builders/permits'
import { surveyOf } from '../../seed/records/clearance'
import { testDatabase } from '../setup/database'
import { pngOf } from '../setup/picture-bytes'
import { formOn, prepared, viewersOf, walk } from './permit-world'

let worksite: Worksite
const database = testDatabase()
const foreman = () => viewersOf(worksite).foreman

beforeEach(async () => {
  await database.setClock(0)
  worksite = await buildWorksite(database.owner)
})

const clear = async (permitId: string) => {
  await clearPermit(foreman(), permitStepSchema.parse(await formOn(permitId)))
  const { rows } = await database.owner.query(
    "SELECT data FROM permit_events WHERE permit_id = $1 AND kind = 'cleared'",
    [permitId],
  )
  return rows[0].data
}

test('what changed since last time is asked first, with what was found then beside it and nothing filled in', async () => {
  const first = await prepared(worksite)
  await walk(foreman(), worksite, first, {
    burnables: { choice: 'moved', what: 'Pallets', distance: '20' },
  })
  await clear(first)
  const next = await getClearance(foreman(), await prepared(worksite))
  expect(next.next).toBe('since_last')
  expect(next.items[0]).toMatchObject({ id: 'since_last', answer: null })
  expect(next.items.every((item) => item.answer === null)).toBe(true)
  expect(next.lastTime?.found).toEqual([{ item: 'burnables', choice: 'moved', what: 'Pallets' }])
})

test('a survey answered faster than it can be walked is cleared and flagged', async () => {
  const permitId = await prepared(worksite)
  await walk(foreman(), worksite, permitId)
  expect((await getClearance(foreman(), permitId)).pace?.isTooFast).toBe(true)
  expect(await clear(permitId)).toMatchObject({ isTooFast: true, leastS: expect.any(Number) })
})

test('one that took its time is not', async () => {
  const permitId = await prepared(worksite)
  const [last, ...before] = surveyOf(worksite.site.area.facts).toReversed()
  const answer = async ({ item, answer: given }: NonNullable<typeof last>) =>
    answerClearance(
      foreman(),
      clearanceAnswerSchema.parse({
        key: uuidv7(),
        permitId,
        item,
        choice: (given as { choice: string }).choice,
      }),
    )
  for (const one of before) await answer(one)
  await database.setClock(10 * 60_000)
  if (last) await answer(last)
  expect(await clear(permitId)).toMatchObject({ isTooFast: false })
})

test('photos stand beside the answer and the precaution that they are of', async () => {
  const permitId = await prepared(worksite)
  const photo = (purpose: string, about: string) =>
    keepPicture(
      foreman(),
      pictureSchema.parse({ key: uuidv7(), permitId, purpose, about }),
      pngOf(40, 30),
    )
  await photo('answer', 'openings')
  await photo('precaution', 'close-or-guard-openings')
  expect((await getClearance(foreman(), permitId)).pictures).toMatchObject([
    { purpose: 'answer', about: 'openings' },
    { purpose: 'precaution', about: 'close-or-guard-openings' },
  ])
})
