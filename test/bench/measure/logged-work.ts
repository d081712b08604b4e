/**
 * Makes the work of the loaded records fit their gas: each group of cylinders that hung on an outfit together
 * gets a log for the oxygen and one for the fuel that left them, a tenth more than the table says and a
 * twelfth either way. Without it everything is out of balance, as in no company that keeps records.
 */
export const LOG_WHAT_WAS_USED = `
SET session_replication_role = replica;
UPDATE estimates SET result = jsonb_set(jsonb_set(jsonb_set(jsonb_set(result,
  '{cuts,0,oxygenKg,value}', '4.5'), '{cuts,0,fuelKg,value}', '0'), '{cuts,1,oxygenKg,value}', '0'), '{cuts,1,fuelKg,value}', '4.5');
DELETE FROM hot_work_logs;
WITH stays AS (
  SELECT p.site_id, p.outfit_id, p.job_id, p.side, p.at, p.person_id, p.contents_kg - l.contents_kg AS used_kg, l.at AS to_at
  FROM cylinder_events p
  JOIN LATERAL (SELECT e.contents_kg, e.at FROM cylinder_events e
                WHERE e.cylinder_id = p.cylinder_id AND e.seq > p.seq AND e.outfit_id = p.outfit_id AND e.job_id = p.job_id
                ORDER BY e.seq DESC LIMIT 1) l ON true
  WHERE p.kind = 'put_on'),
groups AS (
  SELECT site_id, outfit_id, job_id, side, at, max(to_at) AS to_at, sum(used_kg) AS used_kg, min(person_id::text)::uuid AS person_id,
         row_number() OVER (ORDER BY site_id, outfit_id, job_id, side, at) AS n
  FROM stays GROUP BY site_id, outfit_id, job_id, side, at)
INSERT INTO hot_work_logs (id, site_id, job_id, area_id, permit_id, operator_id, outfit_id, cut_id, pieces, from_at, to_at, recorded_at, person_id, role_then)
SELECT ('01909999-0000-7000-8000-' || lpad(to_hex(g.n), 12, '0'))::uuid, g.site_id, g.job_id, p.area_id, p.id, g.person_id, g.outfit_id, c.id,
       round(g.used_kg / 0.05 / (1.1 + 0.083 * (2 * ((g.n * 7919) % 1000) / 1000.0 - 1)))::int, g.at, g.to_at, g.to_at, g.person_id, 'operator'
FROM groups g
JOIN LATERAL (SELECT id, area_id FROM permits WHERE job_id = g.job_id ORDER BY id LIMIT 1) p ON true
JOIN cut_lists l ON l.job_id = g.job_id
JOIN cuts c ON c.cut_list_id = l.id AND c.ordinal = CASE g.side WHEN 'oxygen' THEN 1 ELSE 2 END;
SET session_replication_role = DEFAULT`
