import { Prisma } from '../generated/client'
import { at, day, list } from './list-sql'

export const GEAR_LISTS = {
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
  gearChecks: list(
    'cylinder:read',
    'site outfit kind at by reason found',
    Prisma.sql`s.short_name, o.number, x.kind, ${at('x.at')}, p.name, x.reason, x.data::text`,
    Prisma.sql`outfit_events x JOIN outfits o ON o.id = x.outfit_id LEFT JOIN people p ON p.id = x.person_id`,
  ),
  vehicles: list(
    'cylinder:read',
    'site name plate body trailer payload_kg trailer_payload_kg added_at',
    Prisma.sql`s.short_name, x.name, x.plate, x.body, x.has_trailer, round(x.payload_kg::numeric, 1), round(x.trailer_payload_kg::numeric, 1), ${at('x.added_at')}`,
    Prisma.sql`(SELECT * FROM vehicles WHERE removed_at IS NULL) x`,
  ),
  trips: list(
    'cylinder:read',
    'site to vehicle plate driver purpose state made_at left_at ended_at cylinders gross_kg other_kg shipping_paper driver_trained placards',
    Prisma.sql`s.short_name, t.short_name, v.name, v.plate, p.name, x.purpose, x.state, ${at('x.made_at')}, ${at('x.left_at')}, ${at('x.ended_at')},
      (SELECT count(*) FROM trip_items i WHERE i.trip_id = x.id), (SELECT round(sum(i.gross_kg)::numeric, 1) FROM trip_items i WHERE i.trip_id = x.id),
      round(x.other_gross_kg::numeric, 1), x.shipping_paper_no, x.driver_trained, x.placards_shown`,
    Prisma.sql`trips x JOIN vehicles v ON v.id = x.vehicle_id JOIN sites t ON t.id = x.to_site_id JOIN people p ON p.id = x.driver_id`,
  ),
  loads: list(
    'cylinder:read',
    'site to vehicle made_at serial gas size body gross_kg weighed loaded_at unloaded_at unloaded_site',
    Prisma.sql`s.short_name, t.short_name, v.name, ${at('r.made_at')}, c.serial, c.gas_id, c.size_id, x.body, round(x.gross_kg::numeric, 1), x.is_weighed,
      ${at('x.loaded_at')}, ${at('x.unloaded_at')}, u.short_name`,
    Prisma.sql`trip_items x JOIN trips r ON r.id = x.trip_id JOIN vehicles v ON v.id = r.vehicle_id JOIN sites t ON t.id = r.to_site_id
      JOIN cylinders c ON c.id = x.cylinder_id LEFT JOIN sites u ON u.id = x.unloaded_site_id`,
  ),
  instruments: list(
    'permit:read',
    'site name model added_at last_check checked_on passed valid_until note',
    Prisma.sql`s.short_name, x.name, x.model, ${at('x.added_at')}, k.kind, ${day('k.on_day')}, k.passed, ${day('k.valid_until')}, k.note`,
    Prisma.sql`gas_instruments x LEFT JOIN LATERAL (
      SELECT * FROM instrument_checks k WHERE k.instrument_id = x.id ORDER BY k.at DESC, k.id DESC LIMIT 1) k ON true`,
  ),
} as const
