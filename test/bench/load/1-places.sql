-- Company, sites, people, outfits. 40 sites with work on them, and 41 to 80 with nothing at all.
-- bench.now is the moment at which the records end; ids are made of a kind and a number.
CREATE FUNCTION pg_temp.bid(kind int, n bigint) RETURNS uuid LANGUAGE sql IMMUTABLE AS $$
  SELECT ('0190' || lpad(to_hex(kind), 4, '0') || '-0000-7000-8000-' || lpad(to_hex(n), 12, '0'))::uuid
$$;
CREATE FUNCTION pg_temp.now() RETURNS timestamptz LANGUAGE sql STABLE AS $$ SELECT current_setting('bench.now')::timestamptz $$;
CREATE FUNCTION pg_temp.today() RETURNS date LANGUAGE sql STABLE AS $$ SELECT (pg_temp.now() AT TIME ZONE 'America/New_York')::date $$;
-- A clock time (UTC) on a day counted from today.
CREATE FUNCTION pg_temp.at(day int, clock interval) RETURNS timestamptz LANGUAGE sql STABLE AS $$
  SELECT (pg_temp.today() + day + clock) AT TIME ZONE 'UTC'
$$;

INSERT INTO company (id, name, zone, currency, created_at)
VALUES (pg_temp.bid(0, 1), 'Measured Works', 'America/New_York', 'USD', pg_temp.now() - interval '2 years');

INSERT INTO sites (id, name, short_name, kind, zone, address, emergency_words, shift_ends, delivery_days, created_at)
SELECT pg_temp.bid(1, s), CASE WHEN s <= 40 THEN 'Measured site ' ELSE 'Vacant site ' END || lpad(s::text, 2, '0'),
       CASE WHEN s <= 40 THEN 'Site ' ELSE 'Vacant ' END || lpad(s::text, 2, '0'),
       (ARRAY['mill', 'harbor', 'bridge', 'demolition', 'yard', 'dam'])[1 + s % 6], 'America/New_York',
       s || ' Gauge Road', 'Pull the box at the gate, then call 911', '17:00', ARRAY[2, 5], pg_temp.now() - interval '2 years'
FROM generate_series(1, 80) s;

INSERT INTO areas (id, site_id, name, area_class, facts, posts)
SELECT pg_temp.bid(3, s * 10 + a), pg_temp.bid(1, s), CASE WHEN a = 7 THEN 'Shop bay' ELSE 'Bay ' || a END,
       CASE WHEN a = 7 THEN 'designated' ELSE 'permit' END,
       '{"wall": "noncombustible", "floor": "noncombustible", "indoors": true, "levelFt": 0, "enclosed": false, "detection": false, "sprinklers": false, "confinedSpace": false}',
       '[{"id": "At the work", "name": "At the work"}, {"id": "Below", "name": "Below"}]'
FROM generate_series(1, 40) s, generate_series(1, 7) a;

-- Of each site 1 is the foreman, 2 the PAI, 3 to 10 cut, 11 to 18 watch, 19 keeps the yard.
INSERT INTO people (id, name, email, password_hash, created_at)
SELECT pg_temp.bid(2, s * 100 + q), 'Hand ' || lpad(s::text, 2, '0') || ' ' || lpad(q::text, 2, '0'),
       'hand' || q || '.site' || s || '@measured.example', 'no sign-in by password', pg_temp.now() - interval '2 years'
FROM generate_series(1, 40) s, generate_series(1, 19) q;
-- Who reads the pages: the manager of everything, and of nothing; a foreman of a site with nothing.
INSERT INTO people (id, name, email, password_hash, created_at)
SELECT pg_temp.bid(2, n), 'Reader ' || n, email, 'no sign-in by password', pg_temp.now() - interval '2 years'
FROM (VALUES (1, 'manager@measured.example'), (2, 'manager@vacant.example'), (3, 'foreman@vacant.example')) AS r(n, email);

INSERT INTO grants (id, person_id, site_id, role, granted_at)
SELECT pg_temp.bid(21, s * 100 + q), pg_temp.bid(2, s * 100 + q), pg_temp.bid(1, s),
       CASE WHEN q = 1 THEN 'foreman' WHEN q = 2 THEN 'pai' WHEN q <= 10 THEN 'operator' WHEN q <= 18 THEN 'fire_watch' ELSE 'yard_hand' END,
       pg_temp.now() - interval '2 years'
FROM generate_series(1, 40) s, generate_series(1, 19) q
UNION ALL
SELECT pg_temp.bid(22, s), pg_temp.bid(2, CASE WHEN s <= 40 THEN 1 ELSE 2 END), pg_temp.bid(1, s), 'shop_manager', pg_temp.now() - interval '2 years'
FROM generate_series(1, 80) s
UNION ALL
SELECT pg_temp.bid(23, 1), pg_temp.bid(2, 3), pg_temp.bid(1, 41), 'foreman', pg_temp.now() - interval '2 years';

INSERT INTO qualifications (id, person_id, kind, valid_from, valid_until, evidence, recorded_at)
SELECT pg_temp.bid(24, s * 100 + q), pg_temp.bid(2, s * 100 + q),
       CASE WHEN q = 2 THEN 'pai' WHEN q <= 10 THEN 'torch_operator' ELSE 'fire_watch' END,
       pg_temp.today() - 700, pg_temp.today() + 30, 'Course record', pg_temp.now() - interval '2 years'
FROM generate_series(1, 40) s, generate_series(2, 18) q;

INSERT INTO crews (id, site_id, name) SELECT pg_temp.bid(4, s * 10 + c), pg_temp.bid(1, s), 'Crew ' || s || '-' || c
FROM generate_series(1, 40) s, generate_series(1, 3) c;
INSERT INTO crew_members (id, crew_id, person_id, from_date)
SELECT pg_temp.bid(41, s * 100 + q), pg_temp.bid(4, s * 10 + 1 + q % 3), pg_temp.bid(2, s * 100 + q), pg_temp.today() - 700
FROM generate_series(1, 40) s, generate_series(3, 18) q;

-- Outfits 1 to 4 of a site burn acetylene, 5 and 6 propane.
INSERT INTO outfits (id, site_id, crew_id, number, fuel_gas_id)
SELECT pg_temp.bid(5, s * 10 + o), pg_temp.bid(1, s), pg_temp.bid(4, s * 10 + 1 + o % 3), (s * 10 + o)::text,
       CASE WHEN o <= 4 THEN 'acetylene' ELSE 'propane' END
FROM generate_series(1, 40) s, generate_series(1, 6) o;
INSERT INTO outfit_parts (id, outfit_id, kind, name)
SELECT pg_temp.bid(51, (s * 10 + o) * 10 + k.n), pg_temp.bid(5, s * 10 + o), k.kind, initcap(replace(k.kind, '_', ' '))
FROM generate_series(1, 40) s, generate_series(1, 6) o,
  unnest(ARRAY['torch', 'tip', 'hose_oxygen', 'hose_fuel', 'regulator_oxygen', 'regulator_fuel', 'arrestor_oxygen', 'arrestor_fuel']) WITH ORDINALITY AS k(kind, n);

INSERT INTO suppliers (id, name, lead_days, delivery_fee_minor) VALUES (pg_temp.bid(6, 1), 'Measured Gases', 2, 4500), (pg_temp.bid(6, 2), 'Second Gases', 3, 3000);
INSERT INTO prices (id, supplier_id, size_id, fill_minor, rent_minor_per_day, currency, valid_from)
SELECT pg_temp.bid(61, s.n * 100 + z.n), pg_temp.bid(6, s.n), z.id, 3000 + 500 * z.n + 100 * s.n, 25, 'USD', pg_temp.today() - 700
FROM generate_series(1, 2) AS s(n), (SELECT id, row_number() OVER (ORDER BY id) AS n FROM cylinder_sizes) z;

INSERT INTO site_rulesets (id, site_id, ruleset_id, from_at)
SELECT pg_temp.bid(7, s * 10 + r.n), pg_temp.bid(1, s), r.id, pg_temp.now() - interval '2 years'
FROM generate_series(1, 80) s, unnest(ARRAY['us-osha-1910', 'us-ifc-2018', 'us-nfpa51b-2019']) WITH ORDINALITY AS r(id, n);
