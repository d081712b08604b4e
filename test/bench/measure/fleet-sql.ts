/**
 * What somebody would write by hand for the same screens: the same rows and columns, the same sites
 * that the viewer may see, no client and no library between.
 */
export const bareList = (conditions: string) => `
  SELECT c.id, c.serial, c.gas_id, c.status, c.contents_kg, c.contents_u_kg, c.last_reading_at, c.due_month, c.side, c.vessel, c.holds, c.condition,
    z.id AS size_id, z.name, z.nominal_kg, z.water_volume_l, z.full_gauge_kpa, z.tare_kg, z.heel_kg, z.change_at_gauge_kpa,
    a.name AS area, o.number, (SELECT kerf_now()) AS now, (SELECT zone FROM sites WHERE id = $1) AS zone
  FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id LEFT JOIN areas a ON a.id = c.area_id LEFT JOIN outfits o ON o.id = c.outfit_id
  WHERE c.site_id = $1 ${conditions}
  ORDER BY c.serial LIMIT 51`

/** A page of events with their entries in the record, and how many happened elsewhere. */
export const BARE_HISTORY = `
  WITH entries AS MATERIALIZED (
    SELECT DISTINCT ON (event_id) payload::jsonb -> 'row' ->> 'id' AS event_id, seq, hash FROM audit_entries
    WHERE subject_id = $1::text AND table_name = 'cylinder_events' AND chain = ANY ($2::text[]) ORDER BY event_id, chain
  )
  SELECT e.id, e.seq, e.kind, e.at, e.recorded_at, e.device_at, p.name, e.role_then, s.name, t.name, o.number, e.side, e.gauge_kpa, e.weight_kg,
    e.temperature_k, e.contents_kg, e.contents_u_kg, e.marked_empty, e.reason, x.seq, a.seq, left(a.hash, 6), c.last_seq,
    (SELECT count(*) FROM cylinder_events y WHERE y.cylinder_id = $1::uuid AND (y.site_id = ANY ($2::uuid[]) OR y.to_site_id = ANY ($2::uuid[]))) AS seen
  FROM cylinders c JOIN cylinder_events e ON e.cylinder_id = c.id
  LEFT JOIN people p ON p.id = e.person_id LEFT JOIN sites s ON s.id = e.site_id LEFT JOIN sites t ON t.id = e.to_site_id
  LEFT JOIN outfits o ON o.id = e.outfit_id LEFT JOIN cylinder_events x ON x.id = e.corrects_id LEFT JOIN entries a ON a.event_id = e.id::text
  WHERE c.id = $1::uuid AND c.site_id = ANY ($2::uuid[]) AND (e.site_id = ANY ($2::uuid[]) OR e.to_site_id = ANY ($2::uuid[]))
  ORDER BY e.seq DESC LIMIT 51`

export const SWAP_ENDS = `
  SELECT o.site_id, n.id AS on_id, f.id AS off_id, f.tare_kg, z.* FROM outfits o JOIN cylinders n ON n.serial = $2
  JOIN cylinders f ON f.id = $3 JOIN cylinder_sizes z ON z.id = f.size_id WHERE o.id = $1 AND o.site_id = ANY ($4::uuid[])`
export const SWAP_ACTOR = `SELECT set_config('kerf.actor_id', $1, true), set_config('kerf.actor_role', 'foreman', true)`
export const SWAP_ROW = `
  INSERT INTO swaps (id, site_id, outfit_id, side, off_cylinder_id, on_cylinder_id, person_id, role_then, shut_and_bled, leak_tested)
  VALUES ($1, $2, $3, 'oxygen', $4, $5, $6, 'foreman', true, true)`
export const SWAP_EVENTS = `
  INSERT INTO cylinder_events (id, cylinder_id, kind, site_id, outfit_id, side, place, swap_id, person_id, role_then, gauge_kpa, temperature_k, contents_kg, contents_u_kg)
  VALUES (gen_random_uuid(), $1::uuid, 'taken_off', $3::uuid, $4::uuid, 'oxygen', 1, $5::uuid, $6::uuid, 'foreman', 9000, 293.15, 5, 0.1),
         (gen_random_uuid(), $2::uuid, 'put_on', $3::uuid, $4::uuid, 'oxygen', 1, $5::uuid, $6::uuid, 'foreman', NULL, NULL, NULL, NULL)`

/** Outfits with a spare of their oxygen at the same site. */
export const SWAP_PAIR = `
  SELECT c.outfit_id, c.id AS on_id, c.serial AS on_serial, s.id AS spare_id, s.serial AS spare_serial
  FROM cylinders c JOIN outfits o ON o.id = c.outfit_id AND o.state = 'in_service'
  JOIN LATERAL (SELECT x.id, x.serial FROM cylinders x WHERE x.site_id = c.site_id AND x.gas_id = c.gas_id AND x.status = 'full' ORDER BY x.serial LIMIT 1) s ON true
  WHERE c.site_id = $1 AND c.side = 'oxygen' ORDER BY c.serial LIMIT 1`
