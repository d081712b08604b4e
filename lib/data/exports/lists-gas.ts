import { Prisma } from '../generated/client'
import { at, day, list } from './list-sql'

export const GAS_LISTS = {
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
  entries: list(
    'cylinder:read',
    'site serial number kind at recorded_at by to_site area outfit side place gauge_kpa weight_kg contents_kg contents_u_kg marked_empty filled_on tested_on due_month batch condition reason',
    Prisma.sql`s.short_name, c.serial, x.seq, x.kind, ${at('x.at')}, ${at('x.recorded_at')}, p.name, t.short_name, a.name, o.number, x.side, x.place,
      round(x.gauge_kpa::numeric, 1), round(x.weight_kg::numeric, 3), round(x.contents_kg::numeric, 4), round(x.contents_u_kg::numeric, 4), x.marked_empty,
      ${day('x.filled_on')}, ${day('x.requalified_on')}, to_char(x.due_month, 'YYYY-MM'), x.batch, x.condition, x.reason`,
    Prisma.sql`cylinder_events x JOIN cylinders c ON c.id = x.cylinder_id LEFT JOIN people p ON p.id = x.person_id LEFT JOIN sites t ON t.id = x.to_site_id
      LEFT JOIN areas a ON a.id = x.area_id LEFT JOIN outfits o ON o.id = x.outfit_id`,
  ),
  storage: list(
    'cylinder:read',
    'site area gas size serial status contents_kg nominal_kg',
    Prisma.sql`s.short_name, a.name, x.gas_id, z.name, x.serial, x.status, round(x.contents_kg::numeric, 3), round((z.nominal_kg * x.holds)::numeric, 3)`,
    Prisma.sql`(SELECT * FROM cylinders WHERE status IN ('full', 'partial', 'empty', 'quarantined')) x JOIN cylinder_sizes z ON z.id = x.size_id LEFT JOIN areas a ON a.id = x.area_id`,
  ),
  rentTerms: list(
    'order:read',
    'site supplier size free_days rent_minor_per_day demurrage_from_day demurrage_minor_per_day deposit_minor valid_from entered_at',
    Prisma.sql`s.short_name, u.name, x.size_id, x.free_days, x.rent_minor_per_day, x.demurrage_from_day, x.demurrage_minor_per_day, x.deposit_minor,
      ${day('x.valid_from')}, ${at('x.at')}`,
    Prisma.sql`rent_terms x JOIN suppliers u ON u.id = x.supplier_id`,
  ),
  rented: list(
    'order:read',
    'site supplier gas size serial status arrived_at last_entry_at',
    Prisma.sql`s.short_name, u.name, x.gas_id, x.size_id, x.serial, x.status, ${at('x.arrived_at')}, ${at('e.at')}`,
    Prisma.sql`(SELECT * FROM cylinders WHERE ownership = 'rented' AND status IN ('full', 'partial', 'empty', 'quarantined', 'in_use')) x
      LEFT JOIN suppliers u ON u.id = x.supplier_id JOIN cylinder_events e ON e.cylinder_id = x.id AND e.seq = x.last_seq`,
  ),
  agreements: list(
    'order:read',
    'site supplier lead_days delivery_days least most delivery_fee_minor breaks valid_from entered_at',
    Prisma.sql`s.short_name, u.name, x.lead_days, array_to_string(x.delivery_days, ' '), x.least_cylinders, x.most_cylinders, x.delivery_fee_minor,
      x.breaks::text, ${day('x.valid_from')}, ${at('x.at')}`,
    Prisma.sql`supply_agreements x JOIN suppliers u ON u.id = x.supplier_id`,
  ),
  importFaults: list(
    'cylinder:receive',
    'site file row column says fault',
    Prisma.sql`s.short_name, i.file_name, x.line, x.fault ->> 'column', x.fault ->> 'value', x.fault ->> 'code'`,
    (siteIds) => Prisma.sql`(
      SELECT (substr(md5(r.import_id::text), 1, 16) || lpad(to_hex(r.line), 12, '0') || lpad(to_hex(f.nr), 4, '0'))::uuid AS id, r.import_id, r.line, f.fault
      FROM fleet_imports m JOIN fleet_import_rows r ON r.import_id = m.id CROSS JOIN LATERAL jsonb_array_elements(r.faults) WITH ORDINALITY f(fault, nr)
      WHERE m.site_id = ANY (${[...siteIds]}::uuid[])) x JOIN fleet_imports i ON i.id = x.import_id`,
    Prisma.raw('i.site_id'),
  ),
} as const
