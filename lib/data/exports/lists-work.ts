import { Prisma } from '../generated/client'
import { at, day, list } from './list-sql'

export const WORK_LISTS = {
  jobs: list(
    'job:read',
    'site job title state planned_start planned_end crew chance_to_run oxygen_kg oxygen_u_kg fuel fuel_kg fuel_u_kg permits',
    Prisma.sql`s.short_name, x.number, x.title, x.state, ${day('x.planned_start')}, ${day('x.planned_end')}, c.name, x.chance_to_run,
      round(e.oxygen_kg::numeric, 3), round(e.oxygen_u_kg::numeric, 3), e.fuel, round(e.fuel_kg::numeric, 3), round(e.fuel_u_kg::numeric, 3), x.last_permit_no`,
    Prisma.sql`jobs x LEFT JOIN crews c ON c.id = x.crew_id LEFT JOIN LATERAL (
      SELECT k.oxygen_kg, k.oxygen_u_kg, k.fuel, k.fuel_kg, k.fuel_u_kg FROM estimates k WHERE k.job_id = x.id ORDER BY k.kept_at DESC LIMIT 1) e ON true`,
  ),
  estimates: list(
    'job:read',
    'site job cut_list reason kept_at kept_by oxygen_kg oxygen_u_kg fuel fuel_kg fuel_u_kg calculation',
    Prisma.sql`s.short_name, j.number, l.title, x.reason, ${at('x.kept_at')}, p.name, round(x.oxygen_kg::numeric, 3), round(x.oxygen_u_kg::numeric, 3),
      x.fuel, round(x.fuel_kg::numeric, 3), round(x.fuel_u_kg::numeric, 3), x.calc_version`,
    Prisma.sql`estimates x JOIN jobs j ON j.id = x.job_id LEFT JOIN cut_lists l ON l.id = x.cut_list_id LEFT JOIN people p ON p.id = x.kept_by`,
  ),
  permits: list(
    'record:read',
    'site permit state what area where operator fire_watch issued_at valid_until stopped_at torch_out_at closed_at withdrawn_at watch_minutes',
    Prisma.sql`s.short_name, j.number || '-' || x.number, x.state, x.what, a.name, x.where_words, p.name, w.name, ${at('x.issued_at')}, ${at('x.valid_until')},
      ${at('x.stopped_at')}, ${at('x.torch_out_at')}, ${at('x.closed_at')}, ${at('x.withdrawn_at')}, x.watch_minutes`,
    Prisma.sql`permits x JOIN jobs j ON j.id = x.job_id JOIN areas a ON a.id = x.area_id LEFT JOIN people p ON p.id = x.operator_id LEFT JOIN people w ON w.id = x.fire_watch_id`,
  ),
  incidents: list(
    'permit:read',
    'site kind what done area permit outfit happened_at recorded_at by follow_ups closed_at',
    Prisma.sql`s.short_name, x.kind, x.what, x.done_words, a.name, j.number || '-' || m.number, o.number, ${at('x.happened_at')}, ${at('x.recorded_at')}, p.name,
      (SELECT count(*) FROM incident_events e WHERE e.incident_id = x.id AND e.kind = 'followed_up'),
      (SELECT ${at('max(e.at)')} FROM incident_events e WHERE e.incident_id = x.id AND e.kind = 'closed')`,
    Prisma.sql`incidents x JOIN areas a ON a.id = x.area_id LEFT JOIN permits m ON m.id = x.permit_id LEFT JOIN jobs j ON j.id = m.job_id
      LEFT JOIN outfits o ON o.id = x.outfit_id LEFT JOIN people p ON p.id = x.person_id`,
  ),
  findings: list(
    'audit:read',
    'site gas kind from until found_at size_kg size_u_kg cost_minor chance decision decided_at',
    Prisma.sql`s.short_name, x.gas_id, x.kind, ${at('x.from_at')}, ${at('x.to_at')}, ${at('x.found_at')}, round(x.size_kg::numeric, 3), round(x.size_u_kg::numeric, 3),
      x.cost_minor, round(x.chance::numeric, 3), d.decision, ${at('d.at')}`,
    Prisma.sql`findings x LEFT JOIN LATERAL (
      SELECT * FROM finding_decisions d WHERE d.finding_id = x.id ORDER BY d.at DESC, d.id DESC LIMIT 1) d ON true`,
  ),
} as const
