import { afterAll, expect, test } from 'vitest'
import { getRecord } from '@/lib/data/records/record'
import { buildPreparedPermit, buildWorksite, doingAs } from '../../seed/builders/permits'
import { playNow } from '../../seed/play'
import { writePermitEvent } from '../../seed/records/permit'
import { testDatabase } from '../setup/database'
import { viewersOf } from './permit-world'
import { atMinute } from './watch-world'

const db = () => testDatabase().owner
afterAll(() => atMinute(0))

const TABLES = ['permits', 'permit_events', 'audit_entries']
const YEAR_MIN = 366 * 24 * 60

test('a record says until when it is kept and by which text, and is deleted neither before nor after', async () => {
  const worksite = await buildWorksite(db())
  const { permit, sheet, team } = await buildPreparedPermit(db(), { worksite })
  const { foreman } = viewersOf(worksite)
  const record = () => getRecord(foreman, { permitId: permit.id, isAll: false, after: 0 })
  expect((await record()).keep).toBeNull()
  await playNow(db(), (scribe) =>
    writePermitEvent(scribe, sheet, doingAs(team.foreman, 'foreman'), 'withdrawn', {
      data: { reason: 'Not needed' },
    }),
  )
  const { keep, endedAt } = await record()
  // IFC 2018, 3503.3: 48 hours after the work.
  expect(keep).toEqual({
    until: new Date((endedAt?.getTime() ?? 0) + 48 * 3_600_000),
    ruleId: 'ifc-permit-48h',
  })
  for (const minutes of [1, YEAR_MIN]) {
    await atMinute(minutes)
    for (const table of TABLES) {
      const whose =
        table === 'permits' ? 'id' : table === 'audit_entries' ? 'subject_id' : 'permit_id'
      // The owner of the database, who may do what the app never may.
      await expect(
        db().query(`DELETE FROM ${table} WHERE ${whose} = $1`, [permit.id]),
      ).rejects.toThrow('APPEND_ONLY')
    }
  }
  expect((await record()).entries.length).toBeGreaterThan(0)
})
