import { v7 as uuidv7 } from 'uuid'
import { afterEach, describe, expect, test } from 'vitest'
import {
  closeIncident,
  followUpIncident,
  getIncident,
  listIncidents,
  recordIncident,
} from '@/lib/data/incidents'
import { INCIDENT_KINDS, incidentFollows } from '@/lib/permit/incident'
import { incidentStepSchema, recordIncidentSchema } from '@/lib/schemas/incident'
import {
  type BuiltPermit,
  buildOpenPermit,
  buildWatchPermit,
  buildWorksite,
} from '../../seed/builders/permits'
import { testDatabase } from '../setup/database'
import { permitRow, viewersOf } from './permit-world'
import { atMinute, kindsOf } from './watch-world'

const db = () => testDatabase().owner
afterEach(() => atMinute(0))

const typed = (built: BuiltPermit, over: Record<string, string> = {}) =>
  recordIncidentSchema.parse({
    key: uuidv7(),
    areaId: built.area.id,
    permitId: built.permit.id,
    outfitId: '',
    kind: 'flashback',
    what: 'Squeal in the torch, flame went back',
    done: 'Oxygen shut first',
    agoMin: '0',
    ...over,
  })
const said = (incidentId: string, words = 'Arrestor replaced') =>
  incidentStepSchema.parse({ key: uuidv7(), incidentId, words })

async function outfitState({ outfit }: BuiltPermit): Promise<string> {
  const { rows } = await db().query('SELECT state FROM outfits WHERE id = $1', [outfit.id])
  return rows[0].state
}

const inspect = ({ outfit, site, team }: BuiltPermit) =>
  db().query(
    `INSERT INTO outfit_events (id, outfit_id, site_id, kind, person_id, role_then) VALUES ($1, $2, $3, 'inspected', $4, 'foreman')`,
    [uuidv7(), outfit.id, site.id, team.foreman.id],
  )

describe('an incident', () => {
  test.each(INCIDENT_KINDS)('%s under an open permit brings what lib/permit says', async (kind) => {
    const built = await buildOpenPermit(db())
    await recordIncident(viewersOf(built).operator, typed(built, { kind }))
    const follows = incidentFollows(kind, 'open')
    expect((await permitRow(built.permit.id)).state).toBe(
      follows.includes('holds') ? 'held' : 'open',
    )
    expect(await outfitState(built)).toBe(
      follows.includes('quarantines_outfit') ? 'out_of_service' : 'in_service',
    )
  })

  test('a spot fire on the watch starts it over', async () => {
    const built = await buildWatchPermit(db())
    await atMinute(20)
    await recordIncident(viewersOf(built).fireWatch, typed(built, { kind: 'spot_fire' }))
    expect(await kindsOf(built.permit.id)).toContain('watch_restarted')
    expect(incidentFollows('spot_fire', 'watch')).toEqual(['restarts_watch'])
  })

  test('is kept once for a submission, tells the PAI and foremen, and stands in the list', async () => {
    const built = await buildOpenPermit(db())
    const { operator, foreman } = viewersOf(built)
    const input = typed(built, { kind: 'near_miss', agoMin: '12' })
    const first = await recordIncident(operator, input)
    expect(await recordIncident(operator, input)).toEqual(first)
    const { incidents } = await listIncidents(foreman, built.site.id)
    expect(incidents).toHaveLength(1)
    const ago =
      (incidents[0]?.recordedAt.getTime() ?? 0) - (incidents[0]?.happenedAt.getTime() ?? 0)
    expect(Math.round(ago / 60_000)).toBe(12)
    const { rows } = await db().query(
      "SELECT person_id FROM notices WHERE kind = 'incident' AND site_id = $1",
      [built.site.id],
    )
    expect(rows.map((row) => row.person_id).sort()).toEqual(
      [built.team.foreman.id, built.team.pai.id].sort(),
    )
  })

  test('is closed only after a follow-up, a flashback only after the outfit was inspected, and once', async () => {
    const built = await buildOpenPermit(db())
    const { operator, foreman } = viewersOf(built)
    const { incidentId } = await recordIncident(operator, typed(built))
    await expect(closeIncident(foreman, said(incidentId))).rejects.toMatchObject({
      reasons: [{ code: 'INCIDENT_NOT_FOLLOWED' }, { code: 'INSPECTION_MISSING' }],
    })
    await followUpIncident(foreman, said(incidentId))
    await inspect(built)
    await closeIncident(foreman, said(incidentId, 'Looked over, arrestor new'))
    await expect(followUpIncident(foreman, said(incidentId))).rejects.toMatchObject({
      reasons: [{ code: 'INCIDENT_CLOSED' }],
    })
    const view = await getIncident(foreman, incidentId)
    expect(view.isClosed).toBe(true)
    expect(view.steps.map((step) => step.kind)).toEqual(['followed_up', 'closed'])
    expect(view.canClose).toBe(false)
  })

  test('needs an outfit for a flashback, and is nobody else’s site’s', async () => {
    const built = await buildOpenPermit(db())
    const loose = typed(built, { permitId: '' })
    await expect(recordIncident(viewersOf(built).operator, loose)).rejects.toMatchObject({
      reasons: [{ code: 'INCIDENT_OUTFIT' }],
    })
    const elsewhere = await buildWorksite(db())
    const stranger = viewersOf(elsewhere).foreman
    await expect(recordIncident(stranger, typed(built))).rejects.toMatchObject({
      code: 'NOT_FOUND',
    })
    const { incidentId } = await recordIncident(viewersOf(built).operator, typed(built))
    await expect(getIncident(stranger, incidentId)).rejects.toMatchObject({ code: 'NOT_FOUND' })
    await expect(closeIncident(viewersOf(built).operator, said(incidentId))).rejects.toMatchObject({
      code: 'FORBIDDEN',
    })
  })
})
