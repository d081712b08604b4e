import { writeRow } from '../records/scribe'
import { localDay } from '../zones'
import { as, type PermitRun } from './permit-life'
import { siteOf } from './places'

const DAY = 86_400_000

/** The crew by their PIN, a visitor written down by the foreman, another on a phone of their own. */
export function briefAt(run: PermitRun, atMs: number): void {
  const { world, sheet } = run
  const doing = as(run, 'foreman', atMs)
  const row = (more: Record<string, string | null>) => ({
    id: world.scribe.newId(atMs),
    site_id: sheet.siteId,
    permit_id: sheet.id,
    person_id: null,
    visitor_name: null,
    firm: null,
    how: 'word',
    briefed_by: null,
    ...more,
  })
  writeRow(
    world.scribe,
    doing,
    'permit:sign',
    'sign_ons',
    row({ person_id: as(run, 'operator', atMs).personId, how: 'pin' }),
    row({ person_id: as(run, 'watch', atMs).personId, how: 'pin' }),
    row({
      visitor_name: 'Odile Marsh',
      firm: 'Brackwater Scaffolding',
      briefed_by: doing.personId,
    }),
    row({ visitor_name: 'Tobias Renn', how: 'code' }),
  )
}

/** The mill's two instruments: one ready today, one whose bump test has not been made. */
export function keepInstruments(run: PermitRun, atMs: number): void {
  const { world, sheet, job } = run
  const doing = as(run, 'foreman', atMs)
  const { zone } = siteOf(job.site)
  const day = (days: number) => localDay(zone, atMs + days * DAY)
  const names = [
    { name: 'GM-3', model: 'Four-gas, diffusion', bumped: 0, until: 74 },
    { name: 'GM-8', model: 'Four-gas, pump', bumped: -1, until: 120 },
  ]
  for (const { name, model, bumped, until } of names) {
    const id = world.scribe.newId(atMs)
    const check = (kind: string, onDay: string, validUntil: string | null) => ({
      id: world.scribe.newId(atMs),
      site_id: sheet.siteId,
      instrument_id: id,
      kind,
      on_day: onDay,
      valid_until: validUntil,
      passed: true,
      person_id: doing.personId,
      role_then: doing.role,
    })
    writeRow(world.scribe, doing, 'outfit:inspect', 'gas_instruments', {
      ...{ id, site_id: sheet.siteId, name, model, added_by: doing.personId },
    })
    writeRow(
      world.scribe,
      doing,
      'outfit:inspect',
      'instrument_checks',
      check('calibration', day(-20), day(until)),
      check('bump', day(bumped), null),
    )
  }
}
