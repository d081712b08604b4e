import { v7 as uuidv7 } from 'uuid'
import { afterEach, expect, test } from 'vitest'
import { getPaper, typePaper } from '@/lib/data/permits/paper'
import { keepPicture } from '@/lib/data/pictures/pictures'
import { getWatch } from '@/lib/data/watch/view'
import { paperEntrySchema } from '@/lib/schemas/paper'
import { pictureSchema } from '@/lib/schemas/picture'
import { type BuiltPermit, buildClearedPermit, buildWatchPermit } from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { pngOf } from '../setup/picture-bytes'
import { siteTime, viewersOf } from './permit-world'
import { atMinute } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

const photo = async (built: BuiltPermit, purpose = 'paper') =>
  (
    await keepPicture(
      viewersOf(built).foreman,
      pictureSchema.parse({ key: uuidv7(), permitId: built.permit.id, purpose, about: 'sheet' }),
      pngOf(20, 30),
    )
  ).pictureId

const line = async (built: BuiltPermit, pictureId: string, minutes: number) => {
  const { day, clock } = await siteTime(built.site.zone, minutes)
  return typePaper(
    viewersOf(built).foreman,
    paperEntrySchema.parse({
      ...{ key: uuidv7(), permitId: built.permit.id, pictureId, kind: 'round', day, clock },
      ...{ writtenBy: 'B. L.', words: 'Near, below: clear' },
    }),
  )
}

const progressAt = async ({ permit }: BuiltPermit, at: Date) =>
  (await db().query('SELECT * FROM kerf_watch_progress($1, $2)', [permit.id, at])).rows

test('rounds written on paper are kept as from paper, with the photo, and shorten no watch', async () => {
  const built = await buildWatchPermit(db())
  await atMinute(61)
  const before = await getWatch(viewersOf(built).fireWatch, built.permit.id)
  const watched = await progressAt(built, before.now)
  const pictureId = await photo(built)
  for (const ago of [-51, -41, -31, -21, -11, -1]) await line(built, pictureId, ago)
  const after = await getWatch(viewersOf(built).fireWatch, built.permit.id)
  expect(after.owed.map(({ code }) => code)).toEqual(before.owed.map(({ code }) => code))
  expect(await progressAt(built, before.now)).toEqual(watched)
  expect(after.facts).toEqual(before.facts)
  const { entries } = await getPaper(viewersOf(built).foreman, built.permit.id)
  expect(entries).toHaveLength(6)
  expect(entries[0]).toMatchObject({ kind: 'round', writtenBy: 'B. L.', pictureId })
  const { rows } = await db().query(
    "SELECT count(*)::int AS kept FROM audit_entries WHERE subject_id = $1 AND table_name = 'paper_entries'",
    [built.permit.id],
  )
  expect(rows).toEqual([{ kept: 6 }])
})

test('a line needs a photo of its own sheet, a time under the permit, and the same day', async () => {
  const built = await buildWatchPermit(db())
  await atMinute(5)
  const refused = async (write: Promise<unknown>) =>
    write.then(
      () => 'kept',
      (error: { code: string }) => error.code,
    )
  const sheet = await photo(built)
  const answer = await photo(built, 'answer')
  expect(await refused(line(built, answer, -1))).toBe('PAPER_PHOTO_MISSING')
  expect(await refused(line(built, uuidv7(), -1))).toBe('PAPER_PHOTO_MISSING')
  expect(await refused(line(built, sheet, 5))).toBe('IN_FUTURE')
  expect(await refused(line(built, sheet, -30))).toBe('PAPER_BEFORE_ISSUE')
  await atMinute(40 * 60)
  expect(await refused(line(built, sheet, -39 * 60))).toBe('PAPER_TOO_LATE')
})

test('before the issue there is no sheet to type in', async () => {
  const built = await buildClearedPermit(db())
  await expect(line(built, await photo(built), 0)).rejects.toMatchObject({ code: 'WRONG_STATE' })
})

test('what was typed in is changed and deleted by nobody', async () => {
  const built = await buildWatchPermit(db())
  await atMinute(5)
  await line(built, await photo(built), -1)
  await expect(
    db().query("UPDATE paper_entries SET words = 'warm' WHERE permit_id = $1", [built.permit.id]),
  ).rejects.toThrow('APPEND_ONLY')
  await expect(
    db().query('DELETE FROM paper_entries WHERE permit_id = $1', [built.permit.id]),
  ).rejects.toThrow('APPEND_ONLY')
})

test('whoever may type in what the sheet says may keep its photo, and no photo of an answer', async () => {
  const built = await buildWatchPermit(db())
  await atMinute(5)
  const { fireWatch } = viewersOf(built)
  const keep = (purpose: string) =>
    keepPicture(
      fireWatch,
      pictureSchema.parse({ key: uuidv7(), permitId: built.permit.id, purpose, about: 'sheet' }),
      pngOf(20, 30),
    )
  await expect(keep('answer')).rejects.toMatchObject({ code: 'FORBIDDEN' })
  const { pictureId } = await keep('paper')
  const { day, clock } = await siteTime(built.site.zone, -2)
  await typePaper(
    fireWatch,
    paperEntrySchema.parse({
      ...{ key: uuidv7(), permitId: built.permit.id, pictureId, kind: 'round', day, clock },
      ...{ writtenBy: 'B. L.', words: 'Near, below: clear' },
    }),
  )
  const view = await getPaper(fireWatch, built.permit.id)
  expect([view.canType, view.entries.length]).toEqual([true, 1])
})
