-- 2,500 cylinders a site (bench.cylinders, at bench.sites) and ten events each. A cylinder is received, hangs on an outfit of one job
-- (a stay: put on, read, taken off), goes back, and comes again for another, so that each job has
-- some hundred stays. Ends: 12 a site hang on outfits, of the rest eleven in twenty stand there used,
-- seven full, two went back.
CREATE TEMP TABLE bottles AS
SELECT b.*, z.nominal_kg, z.full_gauge_kpa, z.tare_kg,
       CASE side WHEN 'oxygen' THEN outfit_no WHEN 'fuel' THEN CASE b.gas WHEN 'propane' THEN 5 + outfit_no % 2 ELSE 1 + outfit_no % 4 END END AS outfit_1,
       CASE WHEN m <= 12 THEN 1 + (m - 1) % 6 WHEN side = 'oxygen' THEN 1 + (outfit_no + 1) % 6 WHEN b.gas = 'propane' THEN 6 - outfit_no % 2 ELSE 1 + (outfit_no + 1) % 4 END AS outfit_2
FROM (
  SELECT *, CASE WHEN gas = 'oxygen' THEN 'oxygen' ELSE 'fuel' END AS side, 1 + (m / 25) % 6 AS outfit_no,
         CASE gas WHEN 'oxygen' THEN (ARRAY['oxygen-244', 'oxygen-244', 'oxygen-330', 'oxygen-122'])[1 + m % 4]
           WHEN 'acetylene' THEN (ARRAY['acetylene-225', 'acetylene-130'])[1 + m % 2] ELSE 'propane-100' END AS size_id
  FROM (
    SELECT s, m, (s - 1) * 2500 + m AS n, CASE WHEN m <= 12 THEN 'on' WHEN m % 20 < 11 THEN 'used' WHEN m % 20 < 18 THEN 'full' ELSE 'back' END AS ends,
           CASE WHEN m <= 6 THEN 'oxygen' WHEN m <= 10 THEN 'acetylene' WHEN m <= 12 THEN 'propane'
             WHEN (m / 25) % 4 <> 3 THEN 'oxygen' WHEN (m / 100) % 3 = 2 THEN 'propane' ELSE 'acetylene' END AS gas,
           1 + m % 22 AS job_1, CASE WHEN m <= 12 THEN 50 ELSE 25 + m % 25 END AS job_2
    FROM generate_series(1, current_setting('bench.sites')::int) s, generate_series(1, current_setting('bench.cylinders')::int) m) a) b
JOIN cylinder_sizes z ON z.id = b.size_id;

CREATE TEMP TABLE stays AS
SELECT b.n, v.stay, (b.s - 1) * 60 + v.job AS job, b.s * 10 + v.outfit AS outfit, b.s * 100 + 3 + (b.m + v.stay) % 8 AS person,
       CASE WHEN b.m <= 12 AND v.stay = 2 THEN pg_temp.at(0, '12:00')
         ELSE pg_temp.at((v.job - 50) * 7 - 4 + (v.nth / 18) % 5, '11:30'::interval + ((v.nth / 6) % 3) * interval '3 hours') END AS on_at
FROM bottles b, LATERAL (VALUES (1, b.job_1, b.outfit_1, b.m / 22), (2, b.job_2, b.outfit_2, b.m / 25)) AS v(stay, job, outfit, nth);

-- kind, stay, hours since it was put on, share of nominal that a reading found
CREATE TEMP TABLE steps AS
SELECT ends, seq::int, (string_to_array(step, ' '))[1] AS kind, (string_to_array(step, ' '))[2]::int AS stay,
       (string_to_array(step, ' '))[3]::float8 AS hours, (string_to_array(step, ' '))[4]::float8 AS share
FROM (VALUES
  ('used', ARRAY['received 1 -72', 'put_on 1 0 0.97', 'read 1 1.5 0.5', 'taken_off 1 2.8 0.04', 'returned 1 48', 'received 2 -72', 'put_on 2 0 0.97', 'read 2 1.5 0.6', 'taken_off 2 2.8 0.2', 'read 2 24 0.2']),
  ('full', ARRAY['received 1 -72', 'put_on 1 0 0.97', 'read 1 0.7 0.7', 'read 1 1.4 0.5', 'read 1 2.1 0.3', 'taken_off 1 2.8 0.04', 'read 1 24 0.04', 'read 1 36 0.04', 'returned 1 48', 'received 2 -72']),
  ('back', ARRAY['received 1 -72', 'put_on 1 0 0.97', 'read 1 1.5 0.5', 'taken_off 1 2.8 0.04', 'returned 1 48', 'received 2 -72', 'put_on 2 0 0.97', 'read 2 1.5 0.5', 'taken_off 2 2.8 0.04', 'returned 2 20']),
  ('on', ARRAY['received 1 -72', 'put_on 1 0 0.97', 'read 1 1.5 0.5', 'taken_off 1 2.8 0.04', 'returned 1 48', 'received 2 -72', 'put_on 2 0 0.97', 'read 2 1.5 0.9', 'read 2 3 0.8', 'read 2 4.5 0.7'])) AS v(ends, steps),
  unnest(steps) WITH ORDINALITY AS u(step, seq);

ANALYZE bottles, stays, steps;

INSERT INTO cylinder_events (id, cylinder_id, seq, kind, site_id, outfit_id, side, place, job_id, swap_id, at, recorded_at, person_id, role_then,
  gauge_kpa, weight_kg, temperature_k, contents_kg, contents_u_kg)
SELECT pg_temp.bid(14, b.n * 16 + t.seq), pg_temp.bid(13, b.n), t.seq, t.kind, pg_temp.bid(1, b.s),
  CASE WHEN on_it THEN pg_temp.bid(5, y.outfit) END, CASE WHEN on_it THEN b.side END, CASE WHEN on_it THEN 1 END, CASE WHEN on_it THEN pg_temp.bid(8, y.job) END,
  CASE WHEN t.kind = 'put_on' THEN pg_temp.bid(17, b.n * 16 + t.seq) END, y.at, y.at, pg_temp.bid(2, y.person), 'operator',
  CASE WHEN b.side = 'oxygen' AND t.share IS NOT NULL THEN t.share * b.full_gauge_kpa END, CASE WHEN b.side = 'fuel' AND t.share IS NOT NULL THEN coalesce(b.tare_kg, 60) + t.share * b.nominal_kg END,
  CASE WHEN b.side = 'oxygen' AND t.share IS NOT NULL THEN 293.15 END, t.share * b.nominal_kg, CASE WHEN t.share IS NOT NULL THEN 0.02 * b.nominal_kg END
FROM bottles b JOIN steps t ON t.ends = b.ends
JOIN LATERAL (SELECT st.*, st.on_at + make_interval(secs => t.hours * 3600) AS at,
  t.kind IN ('put_on', 'taken_off') OR (t.kind = 'read' AND t.hours BETWEEN 0 AND 5) AS on_it FROM stays st WHERE st.n = b.n AND st.stay = t.stay) y ON true
ORDER BY y.at, b.n, t.seq;
INSERT INTO swaps (id, site_id, outfit_id, side, on_cylinder_id, job_id, person_id, role_then, shut_and_bled, leak_tested, at)
SELECT swap_id, site_id, outfit_id, side, cylinder_id, job_id, person_id, role_then, true, true, at FROM cylinder_events WHERE swap_id IS NOT NULL;

INSERT INTO cylinders (id, serial, gas_id, size_id, spec, ownership, supplier_id, requalified_on, due_month, created_at, site_id, area_id, outfit_id, side, place,
  status, contents_kg, contents_u_kg, last_reading_at, arrived_at, last_seq)
SELECT pg_temp.bid(13, b.n), 'M' || lpad(b.n::text, 6, '0'), b.gas, b.size_id, CASE b.gas WHEN 'oxygen' THEN 'DOT 3AA' WHEN 'acetylene' THEN 'DOT 8' ELSE 'DOT 4BA' END,
  'rented', pg_temp.bid(6, 1 + b.n % 2), pg_temp.today() - 900, (date_trunc('month', pg_temp.today()) + make_interval(months => b.m % 60 - 2))::date, y.on_at - interval '73 hours',
  CASE WHEN ends <> 'back' THEN pg_temp.bid(1, b.s) END, NULL, CASE WHEN ends = 'on' THEN pg_temp.bid(5, y2.outfit) END, CASE WHEN ends = 'on' THEN b.side END, CASE WHEN ends = 'on' THEN 1 END,
  CASE ends WHEN 'on' THEN 'in_use' WHEN 'back' THEN 'returned' WHEN 'full' THEN 'full' ELSE kerf_fill_status(last.contents_kg, z) END,
  CASE WHEN ends = 'full' THEN b.nominal_kg ELSE last.contents_kg END, CASE WHEN ends <> 'full' THEN last.contents_u_kg END, CASE WHEN ends <> 'full' THEN last.at END,
  CASE WHEN ends <> 'back' THEN y2.on_at - interval '72 hours' END, 10
FROM bottles b JOIN cylinder_sizes z ON z.id = b.size_id JOIN stays y ON y.n = b.n AND y.stay = 1 JOIN stays y2 ON y2.n = b.n AND y2.stay = 2
JOIN (SELECT DISTINCT ON (cylinder_id) cylinder_id, contents_kg, contents_u_kg, at FROM cylinder_events WHERE contents_kg IS NOT NULL ORDER BY cylinder_id, seq DESC) last
  ON last.cylinder_id = pg_temp.bid(13, b.n);
