import { type Db, playNow } from '../play'
import { writeAnswers, writePermitEvent, writeRound, writeSignature } from '../records/permit'
import { type BuiltPermit, doingAs } from './permits'

// What happens to a permit after it was opened, one step each, now by the database's clock.

/** Stop work, pressed once: it is held, and not yet stopped for good. */
export async function pressStop(db: Db, { sheet, team }: BuiltPermit): Promise<void> {
  const operator = doingAs(team.operator, 'operator')
  await playNow(db, (scribe) =>
    writePermitEvent(scribe, sheet, operator, 'held', { data: { stop: true } }),
  )
}

/** Somebody has looked again since the torch went out, and found the area as it was cleared. */
export async function addNewLook(db: Db, { sheet, team }: BuiltPermit): Promise<void> {
  const { rows } = await db.query<{ survey_no: number }>(
    'SELECT survey_no FROM permits WHERE id = $1',
    [sheet.id],
  )
  const answer = { choice: 'as_cleared', what: 'All of it' }
  await playNow(db, (scribe) =>
    writeAnswers(scribe, sheet, doingAs(team.foreman, 'foreman'), {
      surveyNo: rows[0]?.survey_no ?? 1,
      answers: [{ item: 'new_look', answer }],
    }),
  )
}

/** A round by the fire watch that found every post clear. */
export async function addRound(db: Db, { sheet, team }: BuiltPermit): Promise<void> {
  await playNow(db, (scribe) => writeRound(scribe, sheet, doingAs(team.fireWatch, 'fire_watch')))
}

/** Everything owed after the watch, worked off: the word that no fire is possible, and the final look. */
export async function addFinalLook(db: Db, { sheet, team }: BuiltPermit): Promise<void> {
  const watch = doingAs(team.fireWatch, 'fire_watch')
  await playNow(db, (scribe) => {
    writePermitEvent(scribe, sheet, watch, 'statement', { data: { statement: 'Cold all over' } })
    writePermitEvent(scribe, sheet, watch, 'final_look', { data: { found: 'Nothing warm' } })
  })
}

/** The fire watch has signed the last inspection; only the PAI is awaited. */
export async function addWatchSignature(db: Db, built: BuiltPermit): Promise<void> {
  const { sheet, team } = built
  const { rows } = await db.query<{ survey_no: number }>(
    'SELECT survey_no FROM permits WHERE id = $1',
    [sheet.id],
  )
  await playNow(db, (scribe) =>
    writeSignature(
      scribe,
      sheet,
      doingAs(team.fireWatch, 'fire_watch'),
      'final_watch',
      rows[0]?.survey_no ?? 1,
    ),
  )
}
