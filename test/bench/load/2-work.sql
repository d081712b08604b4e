-- 53 jobs a site: 48 done over a year, a week apart, two running, three to come. Four cuts each, an
-- estimate when the job was planned and one with its first permit.
-- pg_temp.results holds estimates that lib/calc made, their cuts named CUT-1 to CUT-4.
CREATE TEMP TABLE job_days AS
SELECT s, k, (s - 1) * 60 + k AS n, CASE WHEN k <= 50 THEN (k - 50) * 7 - 4 ELSE (k - 50) * 5 END AS start_day
FROM generate_series(1, 40) s, generate_series(1, 53) k;
ANALYZE job_days;

INSERT INTO jobs (id, site_id, crew_id, number, title, planned_start, planned_end, chance_to_run, state, done_at, last_permit_no, created_at)
SELECT pg_temp.bid(8, n), pg_temp.bid(1, s), pg_temp.bid(4, s * 10 + 1 + k % 3), lpad(n::text, 4, '0'), 'Girders of span ' || k,
       pg_temp.today() + start_day, pg_temp.today() + start_day + CASE WHEN k IN (49, 50) THEN 14 ELSE 4 END,
       CASE WHEN k <= 50 THEN 1 ELSE 0.8 END, CASE WHEN k <= 48 THEN 'done' WHEN k <= 50 THEN 'running' ELSE 'planned' END,
       CASE WHEN k <= 48 THEN pg_temp.at(start_day + 5, '21:00') END, CASE WHEN k <= 50 THEN 5 ELSE 0 END,
       pg_temp.at(least(start_day - 10, -1), '15:00')
FROM job_days;
-- One where nothing is, for the page with no data.
INSERT INTO jobs (id, site_id, number, title, planned_start, planned_end, state, created_at)
VALUES (pg_temp.bid(8, 4000), pg_temp.bid(1, 41), '4000', 'Nothing yet', pg_temp.today() + 5, pg_temp.today() + 9, 'planned', pg_temp.at(-1, '15:00'));

INSERT INTO cut_lists (id, site_id, job_id, title, fuel, process)
SELECT pg_temp.bid(9, n), pg_temp.bid(1, s), pg_temp.bid(8, n), 'All girders', CASE WHEN k % 5 = 0 THEN 'propane' ELSE 'acetylene' END, 'hand'
FROM job_days;

INSERT INTO cuts (id, site_id, cut_list_id, ordinal, title, material, shape, dims, position, count)
SELECT pg_temp.bid(10, n * 10 + c), pg_temp.bid(1, s), pg_temp.bid(9, n), c, 'Girder ' || c, 'carbon_steel', 'w_shape',
       jsonb_build_object('shape', jsonb_build_object('kind', 'wShape', 'designation', (ARRAY['W24x76', 'W18x50', 'W12x50'])[1 + c % 3]), 'piece', '{"lengthM": 4.572}'::jsonb),
       'horizontal', 90
FROM job_days, generate_series(1, 4) c;

INSERT INTO estimates (id, site_id, job_id, cut_list_id, permit_id, reason, calc_version, inputs, result, sources,
                       oxygen_kg, oxygen_u_kg, fuel, fuel_kg, fuel_u_kg, kept_by, kept_at)
SELECT pg_temp.bid(11, j.n * 10 + p), pg_temp.bid(1, j.s), pg_temp.bid(8, j.n), pg_temp.bid(9, j.n),
       CASE WHEN p > 0 THEN pg_temp.bid(12, (j.s - 1) * 250 + (j.k - 1) * 5 + p) END, CASE WHEN p = 0 THEN 'kept' ELSE 'issued' END,
       r.calc_version, r.inputs, e.result::jsonb, r.sources, r.oxygen_kg, r.oxygen_u_kg, r.fuel, r.fuel_kg, r.fuel_u_kg,
       pg_temp.bid(2, j.s * 100 + 1),
       CASE WHEN p = 0 THEN pg_temp.at(least(j.start_day - 9, -1), '15:00') ELSE pg_temp.at(least(j.start_day + p - 1, 0), '11:00') END
FROM job_days j CROSS JOIN generate_series(0, 1) p
JOIN pg_temp.results r ON r.fuel = CASE WHEN j.k % 5 = 0 THEN 'propane' ELSE 'acetylene' END
CROSS JOIN LATERAL (
  SELECT replace(replace(replace(replace(r.result, 'CUT-1', pg_temp.bid(10, j.n * 10 + 1)::text), 'CUT-2', pg_temp.bid(10, j.n * 10 + 2)::text),
    'CUT-3', pg_temp.bid(10, j.n * 10 + 3)::text), 'CUT-4', pg_temp.bid(10, j.n * 10 + 4)::text) AS result) e
WHERE p = 0 OR j.k <= 50;

-- Twenty orders that came, one on its way.
INSERT INTO orders (id, site_id, supplier_id, number, state, due_on, reason, confirmed_by, confirmed_at)
SELECT pg_temp.bid(15, s * 100 + o), pg_temp.bid(1, s), pg_temp.bid(6, 1 + o % 2), 'P' || s || '-' || o, CASE WHEN o = 21 THEN 'confirmed' ELSE 'delivered' END,
       pg_temp.today() + CASE WHEN o = 21 THEN 2 ELSE (o - 21) * 14 END, '{}', pg_temp.bid(2, 1), pg_temp.at(CASE WHEN o = 21 THEN -1 ELSE (o - 21) * 14 - 2 END, '15:00')
FROM generate_series(1, 40) s, generate_series(1, 21) o;
INSERT INTO order_lines (id, order_id, site_id, size_id, quantity, fill_minor)
SELECT pg_temp.bid(16, (s * 100 + o) * 10 + z.n), pg_temp.bid(15, s * 100 + o), pg_temp.bid(1, s), z.id, 12, 4000
FROM generate_series(1, 40) s, generate_series(1, 21) o, unnest(ARRAY['oxygen-244', 'acetylene-225', 'propane-100']) WITH ORDINALITY AS z(id, n);
