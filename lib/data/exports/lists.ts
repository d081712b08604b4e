import 'server-only'
import type { Action } from '@/lib/access/access'
import { Prisma } from '../generated/client'

export type ExportList = Readonly<{
  action: Action
  head: readonly string[]
  /** Cells as SQL, one for each head. */
  cells: Prisma.Sql
  /** Rows named x, of which no two share an id. */
  from: (siteIds: readonly string[]) => Prisma.Sql
  /** The site of a row. */
  site: Prisma.Sql
}>

/** As the clock on the site's wall shows it: a spreadsheet reads this as a time. */
const at = (column: string) =>
  Prisma.raw(`to_char(${column} AT TIME ZONE s.zone, 'YYYY-MM-DD HH24:MI')`)
const day = (column: string) => Prisma.raw(`to_char(${column}, 'YYYY-MM-DD')`)
const list = (
  action: Action,
  head: string,
  cells: Prisma.Sql,
  from: Prisma.Sql | ExportList['from'],
  site = Prisma.raw('x.site_id'),
): ExportList => ({
  action,
  head: head.split(' '),
  cells,
  from: typeof from === 'function' ? from : () => from,
  site,
})

const GEAR = {
  outfits: list(
    'cylinder:read',
    'site outfit fuel state reason crew held_by rented_from oxygen_places fuel_places last_inspected last_leak_test',
    Prisma.sql`s.short_name, x.number, x.fuel_gas_id, x.state, x.state_reason, c.name, p.name, x.rented_from, x.oxygen_places, x.fuel_places,
      (SELECT ${at('max(e.at)')} FROM outfit_events e WHERE e.outfit_id = x.id AND e.kind = 'inspected'),
      (SELECT ${at('max(e.at)')} FROM outfit_events e WHERE e.outfit_id = x.id AND e.kind = 'leak_tested')`,
    Prisma.sql`outfits x LEFT JOIN crews c ON c.id = x.crew_id LEFT JOIN people p ON p.id = x.holder_id`,
  ),
  parts: list(
    'cylinder:read',
    'site outfit kind name serial orifice_mm shop_tip hose_grade length_m bore_mm checked_on added_at removed_at',
    Prisma.sql`s.short_name, o.number, x.kind, x.name, x.serial, round((x.orifice_m * 1000)::numeric, 3), x.shop_tip, x.hose_grade, x.length_m,
      round((x.bore_m * 1000)::numeric, 1), ${day('x.checked_on')}, ${at('x.added_at')}, ${at('x.removed_at')}`,
    Prisma.sql`outfit_parts x JOIN outfits o ON o.id = x.outfit_id`,
    Prisma.raw('o.site_id'),
  ),
  tips: list(
    'cylinder:read',
    'site outfit tip orifice_mm shop_tip checked_on',
    Prisma.sql`s.short_name, o.number, x.name, round((x.orifice_m * 1000)::numeric, 3), x.shop_tip, ${day('x.checked_on')}`,
    Prisma.sql`(SELECT * FROM outfit_parts WHERE kind = 'tip' AND removed_at IS NULL) x JOIN outfits o ON o.id = x.outfit_id`,
    Prisma.raw('o.site_id'),
  ),
  extinguishers: list(
    'site:read',
    'site number kind rating place last_monthly last_annual last_was_good note',
    Prisma.sql`s.short_name, x.number, x.kind, x.rating, x.place,
      (SELECT ${at('max(k.at)')} FROM extinguisher_checks k WHERE k.extinguisher_id = x.id AND k.is_good),
      (SELECT ${at('max(k.at)')} FROM extinguisher_checks k WHERE k.extinguisher_id = x.id AND k.is_good AND k.kind = 'annual'),
      l.is_good, l.note`,
    Prisma.sql`(SELECT * FROM extinguishers WHERE removed_at IS NULL) x LEFT JOIN LATERAL (
      SELECT k.is_good, k.note FROM extinguisher_checks k WHERE k.extinguisher_id = x.id ORDER BY k.at DESC, k.id DESC LIMIT 1) l ON true`,
  ),
} as const

const GAS = {
  deliveries: list(
    'cylinder:read',
    'site received_at received_by supplier order cylinders differences unsettled note',
    Prisma.sql`s.short_name, ${at('x.received_at')}, p.name, u.name, o.number,
      (SELECT count(*) FROM cylinder_events e WHERE e.delivery_id = x.id AND e.kind = 'received' AND e.site_id = x.site_id),
      (SELECT count(*) FROM delivery_differences d WHERE d.delivery_id = x.id),
      (SELECT count(*) FROM delivery_differences d WHERE d.delivery_id = x.id AND NOT EXISTS (SELECT 1 FROM delivery_settlements t WHERE t.difference_id = d.id)),
      x.note`,
    Prisma.sql`deliveries x LEFT JOIN people p ON p.id = x.received_by JOIN suppliers u ON u.id = x.supplier_id LEFT JOIN orders o ON o.id = x.order_id`,
  ),
  differences: list(
    'cylinder:read',
    'site received_at supplier order kind serial size quantity batch note settled_as settled_at',
    Prisma.sql`s.short_name, ${at('d.received_at')}, u.name, o.number, x.kind, x.serial, x.size_id, x.quantity, x.batch, x.note, t.how, ${at('t.at')}`,
    Prisma.sql`delivery_differences x JOIN deliveries d ON d.id = x.delivery_id JOIN suppliers u ON u.id = d.supplier_id
      LEFT JOIN orders o ON o.id = d.order_id LEFT JOIN delivery_settlements t ON t.difference_id = x.id`,
  ),
  counts: list(
    'cylinder:move',
    'site begun_at begun_by seen ended_at ended_by found misplaced lost left_open',
    Prisma.sql`s.short_name, ${at('x.at')}, p.name, (SELECT count(*) FROM stock_sightings g WHERE g.count_id = x.id), ${at('n.at')}, q.name,
      n.found, n.misplaced, n.lost, n.left_open`,
    Prisma.sql`stock_counts x LEFT JOIN stock_count_ends n ON n.count_id = x.id LEFT JOIN people p ON p.id = x.person_id LEFT JOIN people q ON q.id = n.person_id`,
  ),
  orders: list(
    'order:read',
    'site order state supplier due_on size quantity fill_minor confirmed_at confirmed_by',
    Prisma.sql`s.short_name, o.number, o.state, u.name, ${day('o.due_on')}, x.size_id, x.quantity, x.fill_minor, ${at('o.confirmed_at')}, p.name`,
    Prisma.sql`order_lines x JOIN orders o ON o.id = x.order_id JOIN suppliers u ON u.id = o.supplier_id LEFT JOIN people p ON p.id = o.confirmed_by`,
  ),
} as const

const WORK = {
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
} as const

/** Somebody is of every site where they hold a role: a row for each role, but one for each card. */
const PEOPLE = {
  people: list(
    'people:read',
    'site name firm role since disabled_at',
    Prisma.sql`s.short_name, p.name, p.firm, x.role, ${at('x.granted_at')}, ${at('p.disabled_at')}`,
    Prisma.sql`(SELECT * FROM grants WHERE revoked_at IS NULL) x JOIN people p ON p.id = x.person_id`,
  ),
  qualifications: list(
    'people:read',
    'site name firm kind issuer valid_from valid_until evidence files recorded_at',
    Prisma.sql`s.short_name, p.name, p.firm, x.kind, x.issuer, ${day('x.valid_from')}, ${day('x.valid_until')}, x.evidence,
      (SELECT count(*) FROM evidence_files f WHERE f.qualification_id = x.id), ${at('x.recorded_at')}`,
    (siteIds) => Prisma.sql`qualifications x JOIN people p ON p.id = x.person_id JOIN LATERAL (
      SELECT g.site_id FROM grants g WHERE g.person_id = x.person_id AND g.revoked_at IS NULL AND g.site_id = ANY (${[...siteIds]}::uuid[])
      ORDER BY g.granted_at, g.id LIMIT 1) h ON true`,
    Prisma.raw('h.site_id'),
  ),
} as const

export const EXPORTS = { ...GEAR, ...GAS, ...WORK, ...PEOPLE } satisfies Record<string, ExportList>
export type ExportName = keyof typeof EXPORTS

export const isExportName = (name: string): name is ExportName => Object.hasOwn(EXPORTS, name)
