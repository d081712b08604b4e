-- The whole life of a cylinder in events: bought and rented in, counted, sent for test and back, with the
-- condition of its wall, the batch of its filling and the method of its test. Packs, dewars and portable
-- sets are cylinders. What a test may set is held to 49 CFR 180.209, as lib/rules/requalification.ts is.

ALTER TABLE cylinders
  ADD COLUMN "vessel" TEXT NOT NULL DEFAULT 'cylinder',
  ADD COLUMN "holds" INTEGER NOT NULL DEFAULT 1,
  ADD COLUMN "made_month" DATE,
  ADD COLUMN "service_life_ends" DATE,
  ADD COLUMN "test_method" TEXT,
  ADD COLUMN "is_starred" BOOLEAN NOT NULL DEFAULT false,
  ADD COLUMN "condition" TEXT NOT NULL DEFAULT 'sound',
  ADD COLUMN "batch" TEXT,
  ADD CONSTRAINT cylinders_vessel CHECK (vessel IN ('cylinder', 'pack', 'dewar', 'portable_set') AND holds BETWEEN 1 AND 64 AND (holds = 1 OR vessel IN ('pack', 'portable_set'))),
  ADD CONSTRAINT cylinders_made_month CHECK (made_month = date_trunc('month', made_month)::date),
  ADD CONSTRAINT cylinders_test_method CHECK (test_method IN ('volumetric', 'proof', 'visual')),
  ADD CONSTRAINT cylinders_condition CHECK (condition IN ('sound', 'heat_damage', 'dent', 'corrosion', 'crack', 'leak', 'accident', 'ground_down')),
  ADD CONSTRAINT cylinders_unsound_rests CHECK (condition = 'sound' OR status NOT IN ('full', 'partial', 'empty'));
ALTER TABLE cylinder_events
  ADD COLUMN "condition" TEXT,
  ADD COLUMN "batch" TEXT,
  ADD COLUMN "test_method" TEXT,
  ADD COLUMN "is_starred" BOOLEAN,
  ADD COLUMN "trip_id" UUID,
  ADD COLUMN "count_id" UUID,
  DROP CONSTRAINT cylinder_events_kind,
  ADD CONSTRAINT cylinder_events_kind CHECK (kind IN ('bought', 'rented_in', 'received', 'moved', 'loaded', 'unloaded', 'put_on', 'taken_off', 'read', 'returned', 'quarantined', 'released', 'sent_for_test', 'requalified', 'lost', 'found', 'scrapped', 'filled', 'corrected', 'found_on', 'counted')),
  -- Only a test makes an unsound wall sound again.
  ADD CONSTRAINT cylinder_events_condition CHECK (condition IS NULL OR condition IN ('heat_damage', 'dent', 'corrosion', 'crack', 'leak', 'accident', 'ground_down') AND kind IN ('received', 'bought', 'rented_in', 'found', 'unloaded', 'taken_off', 'read', 'counted', 'quarantined')),
  ADD CONSTRAINT cylinder_events_test_method CHECK (test_method IN ('volumetric', 'proof', 'visual')),
  ADD CONSTRAINT cylinder_events_batch CHECK (batch IS NULL OR kind IN ('received', 'bought', 'rented_in', 'filled'));
CREATE INDEX cylinder_events_trip ON cylinder_events (trip_id) WHERE trip_id IS NOT NULL;
CREATE INDEX cylinder_events_count ON cylinder_events (count_id) WHERE count_id IS NOT NULL;
CREATE INDEX cylinders_batch ON cylinders (gas_id, batch) WHERE batch IS NOT NULL;
-- Whose it is follows from how it came.
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN REVOKE UPDATE (ownership) ON cylinders FROM kerfwatch_runtime; END IF;
END $$;

-- The specification in what is stamped, "DOT 3AA2265" as well as "3AA".
CREATE FUNCTION kerf_spec(stamped text) RETURNS text LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT (regexp_match(upper(stamped), '(?:^|[^A-Z0-9])(3AA|3AL|3A|3E|4BA|4BW|4B|4L|8AL|8)(?![A-Z])'))[1]
$$;

-- The last month that a test of this day may be said to hold to; null where the text names no interval.
-- A star counts for the listed gases alone, and not in a pack, which is not taken apart for each filling.
CREATE FUNCTION kerf_due_latest(c cylinders, tested date, method text, starred boolean) RETURNS date LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT (date_trunc('month', tested) + make_interval(years => CASE
    WHEN kerf_spec(c.spec) IN ('3A', '3AA') THEN CASE WHEN starred AND c.vessel <> 'pack' AND coalesce(c.made_month, 'infinity') >= '1946-01-01' AND c.gas_id IN (
      'oxygen', 'air', 'argon', 'nitrogen', 'helium', 'hydrogen', 'neon', 'krypton', 'xenon', 'nitrous_oxide', 'ethylene', 'sulfur_hexafluoride') THEN 10 ELSE 5 END
    WHEN kerf_spec(c.spec) = '3AL' THEN 5
    WHEN kerf_spec(c.spec) IN ('4B', '4BA', '4BW') THEN CASE WHEN c.gas_id IN ('propane', 'propylene', 'mps') THEN CASE method WHEN 'volumetric' THEN 12 WHEN 'proof' THEN 10 ELSE 5 END ELSE 5 END
    WHEN kerf_spec(c.spec) IN ('8', '8AL') THEN 10 END))::date
$$;

-- As before, with where a cylinder's condition and batch begin.
CREATE OR REPLACE FUNCTION kerf_cylinder_new() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.created_at := kerf_now(); NEW.site_id := NULL; NEW.area_id := NULL; NEW.outfit_id := NULL; NEW.side := NULL; NEW.place := NULL;
  NEW.status := 'new'; NEW.contents_kg := NULL; NEW.contents_u_kg := NULL; NEW.last_reading_at := NULL; NEW.arrived_at := NULL; NEW.last_seq := 0;
  NEW.filled_on := NULL; NEW.condition := 'sound'; NEW.batch := NULL;
  IF NOT EXISTS (SELECT 1 FROM cylinder_sizes s WHERE s.id = NEW.size_id AND s.gas_id = NEW.gas_id) THEN PERFORM kerf_refuse('SIZE_OTHER_GAS'); END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION kerf_cylinder_reasons(c cylinders, e cylinder_events) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  params jsonb := jsonb_build_object('serial', c.serial);
  o outfits%ROWTYPE;
  swap swaps%ROWTYPE;
  latest date;
  here text[] := ARRAY['full', 'partial', 'empty', 'quarantined'];
  allowed text[] := CASE e.kind
    WHEN 'received' THEN ARRAY['new', 'returned', 'at_test'] WHEN 'bought' THEN ARRAY['new'] WHEN 'rented_in' THEN ARRAY['new']
    WHEN 'moved' THEN here WHEN 'returned' THEN here WHEN 'sent_for_test' THEN here
    WHEN 'loaded' THEN ARRAY['full', 'partial', 'empty'] WHEN 'unloaded' THEN ARRAY['in_transit']
    WHEN 'put_on' THEN ARRAY['full', 'partial'] WHEN 'taken_off' THEN ARRAY['in_use']
    WHEN 'read' THEN here || ARRAY['in_use'] WHEN 'quarantined' THEN ARRAY['full', 'partial', 'empty'] WHEN 'released' THEN ARRAY['quarantined']
    WHEN 'requalified' THEN here || ARRAY['at_test', 'new', 'returned'] WHEN 'filled' THEN ARRAY['full', 'partial', 'empty', 'at_test', 'new', 'returned']
    WHEN 'lost' THEN here || ARRAY['in_use', 'in_transit', 'at_test', 'returned'] WHEN 'found' THEN ARRAY['lost', 'returned', 'at_test', 'new'] WHEN 'counted' THEN here || ARRAY['in_use']
    WHEN 'scrapped' THEN here || ARRAY['at_test', 'returned', 'lost', 'new']
    WHEN 'found_on' THEN here || ARRAY['in_use', 'in_transit', 'lost', 'new', 'returned', 'at_test']
    ELSE here || ARRAY['in_use', 'in_transit', 'returned', 'at_test', 'lost', 'new'] END;
BEGIN
  IF c.status = 'in_use' AND e.kind IN ('moved', 'loaded', 'put_on', 'returned', 'quarantined', 'sent_for_test', 'scrapped', 'requalified', 'filled', 'received', 'bought', 'rented_in') THEN
    RETURN kerf_reason('CYLINDER_ON_OUTFIT', params || jsonb_build_object('outfitId', c.outfit_id));
  END IF;
  IF c.status <> ALL (allowed) THEN
    RETURN kerf_reason(CASE WHEN c.status = 'empty' AND e.kind = 'put_on' THEN 'CYLINDER_EMPTY' WHEN c.status = 'quarantined' THEN 'CYLINDER_QUARANTINED'
      WHEN e.kind IN ('received', 'bought', 'rented_in') THEN 'CYLINDER_HERE' ELSE 'CYLINDER_STATUS' END, params || jsonb_build_object('status', c.status, 'kind', e.kind));
  END IF;
  IF c.site_id IS DISTINCT FROM e.site_id AND e.kind NOT IN ('received', 'bought', 'rented_in', 'unloaded', 'found', 'found_on', 'corrected', 'requalified', 'filled', 'scrapped', 'lost') THEN
    reasons := reasons || kerf_reason('CYLINDER_ELSEWHERE', params);
  END IF;
  IF e.area_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM areas a WHERE a.id = e.area_id AND a.site_id = coalesce(e.to_site_id, e.site_id)) THEN
    reasons := reasons || kerf_reason('AREA_OTHER_SITE');
  END IF;
  IF e.kind = 'loaded' AND e.to_site_id IS NULL THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "toSiteId"}'); END IF;
  IF e.kind = 'read' AND e.contents_kg IS NULL AND NOT e.marked_empty THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "contentsKg"}'); END IF;
  IF e.kind IN ('quarantined', 'lost', 'found_on', 'scrapped') AND coalesce(e.reason, '') = '' THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "reason"}'); END IF;
  IF e.kind = 'requalified' AND (e.requalified_on IS NULL OR e.due_month IS NULL OR e.due_month <= e.requalified_on) THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "dueMonth"}'); END IF;
  IF e.kind = 'filled' THEN
    IF e.filled_on IS NULL THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "filledOn"}');
    ELSIF kerf_past_due(c.due_month, e.filled_on) THEN reasons := reasons || kerf_reason('PAST_DUE', params || jsonb_build_object('dueMonth', c.due_month)); END IF;
    IF c.condition <> 'sound' THEN reasons := reasons || kerf_reason('CONDITION_NEEDS_TEST', params || jsonb_build_object('condition', c.condition)); END IF;
    IF c.service_life_ends < e.filled_on THEN reasons := reasons || kerf_reason('SERVICE_LIFE_OVER', params || jsonb_build_object('ended', c.service_life_ends)); END IF;
  END IF;
  -- Past its due month a full one is taken in only if it was filled before.
  IF e.kind IN ('received', 'bought', 'rented_in') AND NOT e.marked_empty AND kerf_past_due(c.due_month, kerf_site_day(e.site_id, e.at))
     AND (coalesce(e.filled_on, c.filled_on) IS NULL OR kerf_past_due(c.due_month, coalesce(e.filled_on, c.filled_on))) THEN
    reasons := reasons || kerf_reason('PAST_DUE', params || jsonb_build_object('dueMonth', c.due_month));
  END IF;
  -- A wall that was heated, dented or burned beats every date: only a test makes the cylinder sound again.
  IF e.kind = 'released' AND c.condition <> 'sound' THEN reasons := reasons || kerf_reason('CONDITION_NEEDS_TEST', params || jsonb_build_object('condition', c.condition)); END IF;
  IF e.kind = 'requalified' AND e.requalified_on IS NOT NULL THEN
    IF e.requalified_on > kerf_site_day(e.site_id, e.recorded_at) THEN reasons := reasons || kerf_reason('TESTED_IN_FUTURE', params); END IF;
    latest := kerf_due_latest(c, e.requalified_on, coalesce(e.test_method, c.test_method), coalesce(e.is_starred, c.is_starred));
    IF e.due_month > latest THEN reasons := reasons || kerf_reason('DUE_TOO_LATE', params || jsonb_build_object('latest', to_char(latest, 'YYYY-MM'), 'spec', c.spec)); END IF;
  END IF;
  IF e.contents_kg > 1.25 * c.holds * (SELECT z.nominal_kg FROM cylinder_sizes z WHERE z.id = c.size_id) THEN
    reasons := reasons || kerf_reason('MORE_THAN_IT_HOLDS', params);
  END IF;
  IF e.kind = 'taken_off' AND e.outfit_id IS DISTINCT FROM c.outfit_id THEN reasons := reasons || kerf_reason('NOT_ON_OUTFIT', params); END IF;
  IF e.kind = 'corrected' AND e.contents_kg IS NULL AND NOT e.marked_empty THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "contentsKg"}'); END IF;
  IF e.kind = 'corrected' AND NOT EXISTS (SELECT 1 FROM cylinder_events x WHERE x.id = e.corrects_id AND x.cylinder_id = c.id) THEN
    reasons := reasons || kerf_reason('CORRECTS_UNKNOWN');
  END IF;
  IF e.kind IN ('put_on', 'found_on') THEN
    SELECT * INTO o FROM outfits x WHERE x.id = e.outfit_id;
    IF o.id IS NULL OR o.site_id <> e.site_id THEN reasons := reasons || kerf_reason('OUTFIT_OTHER_SITE'); END IF;
    IF e.side NOT IN ('oxygen', 'fuel') OR e.side IS NULL OR e.place IS NULL OR e.place NOT BETWEEN 1 AND (CASE e.side WHEN 'oxygen' THEN o.oxygen_places ELSE o.fuel_places END) THEN
      reasons := reasons || kerf_reason('NO_SUCH_PLACE', jsonb_build_object('place', coalesce(e.place, 0)));
    END IF;
    IF EXISTS (SELECT 1 FROM cylinders x WHERE x.outfit_id = e.outfit_id AND x.side = e.side AND x.place = e.place AND x.id <> c.id) THEN
      reasons := reasons || kerf_reason('PLACE_TAKEN', jsonb_build_object('place', e.place));
    END IF;
  END IF;
  IF e.kind = 'put_on' THEN
    IF o.state <> 'in_service' THEN reasons := reasons || kerf_reason('OUTFIT_OUT_OF_SERVICE', jsonb_build_object('number', o.number, 'reason', coalesce(o.state_reason, ''))); END IF;
    IF c.gas_id <> (CASE e.side WHEN 'oxygen' THEN 'oxygen' ELSE o.fuel_gas_id END) THEN
      reasons := reasons || kerf_reason('WRONG_GAS', params || jsonb_build_object('gas', c.gas_id, 'wanted', CASE e.side WHEN 'oxygen' THEN 'oxygen' ELSE o.fuel_gas_id END));
    END IF;
    IF kerf_past_due(c.due_month, c.filled_on) THEN reasons := reasons || kerf_reason('FILLED_AFTER_DUE', params || jsonb_build_object('dueMonth', c.due_month)); END IF;
    SELECT * INTO swap FROM swaps x WHERE x.id = e.swap_id;
    IF swap.id IS NULL OR swap.on_cylinder_id <> c.id OR swap.outfit_id <> e.outfit_id OR swap.side <> e.side THEN reasons := reasons || kerf_reason('SWAP_MISSING'); END IF;
  END IF;
  RETURN reasons;
END $$;

CREATE OR REPLACE FUNCTION kerf_cylinder_next(c cylinders, e cylinder_events, s cylinder_sizes, hung_wrong boolean) RETURNS cylinders LANGUAGE plpgsql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  c.last_seq := e.seq;
  -- What is marked empty holds no more than its heel, and no more than was left in it before.
  IF e.marked_empty THEN c.contents_kg := coalesce(e.contents_kg, least(s.heel_kg, c.contents_kg)); c.contents_u_kg := coalesce(e.contents_u_kg, s.heel_kg); c.last_reading_at := e.at;
  ELSIF e.contents_kg IS NOT NULL THEN c.contents_kg := e.contents_kg; c.contents_u_kg := e.contents_u_kg; c.last_reading_at := e.at;
  END IF;
  c.condition := coalesce(e.condition, c.condition); c.batch := coalesce(e.batch, c.batch);
  CASE e.kind
  WHEN 'received', 'bought', 'rented_in' THEN
    IF e.kind <> 'received' THEN c.ownership := CASE e.kind WHEN 'bought' THEN 'owned' ELSE 'rented' END; END IF;
    c.site_id := e.site_id; c.area_id := e.area_id; c.arrived_at := e.at; c.filled_on := coalesce(e.filled_on, c.filled_on);
    IF NOT e.marked_empty AND e.contents_kg IS NULL THEN c.contents_kg := s.nominal_kg; c.contents_u_kg := NULL; c.last_reading_at := NULL; END IF;
    c.status := CASE WHEN e.marked_empty THEN 'empty' ELSE kerf_fill_status(c.contents_kg, s) END;
  WHEN 'moved' THEN
    IF e.to_site_id IS NOT NULL AND e.to_site_id <> c.site_id THEN c.site_id := e.to_site_id; c.arrived_at := e.at; END IF;
    c.area_id := e.area_id;
  WHEN 'loaded' THEN c.status := 'in_transit'; c.area_id := NULL;
  WHEN 'unloaded' THEN c.site_id := e.site_id; c.area_id := e.area_id; c.arrived_at := e.at; c.status := kerf_fill_status(c.contents_kg, s);
  WHEN 'put_on' THEN c.status := 'in_use'; c.outfit_id := e.outfit_id; c.side := e.side; c.place := e.place; c.area_id := NULL;
  WHEN 'found_on' THEN
    IF c.site_id IS DISTINCT FROM e.site_id THEN c.site_id := e.site_id; c.arrived_at := e.at; END IF;
    c.status := 'in_use'; c.outfit_id := e.outfit_id; c.side := e.side; c.place := e.place; c.area_id := NULL;
  WHEN 'taken_off' THEN
    c.outfit_id := NULL; c.side := NULL; c.place := NULL; c.area_id := e.area_id;
    -- What hung where it should not is looked at before anybody uses it again.
    c.status := CASE WHEN hung_wrong THEN 'quarantined' WHEN e.marked_empty THEN 'empty' ELSE kerf_fill_status(c.contents_kg, s) END;
  WHEN 'quarantined' THEN c.status := 'quarantined';
  WHEN 'released' THEN c.status := kerf_fill_status(c.contents_kg, s);
  WHEN 'read', 'corrected' THEN
    IF c.status IN ('full', 'partial', 'empty') THEN c.status := CASE WHEN e.marked_empty THEN 'empty' ELSE kerf_fill_status(c.contents_kg, s) END; END IF;
  WHEN 'requalified' THEN
    c.requalified_on := e.requalified_on; c.due_month := e.due_month; c.condition := 'sound';
    c.test_method := coalesce(e.test_method, c.test_method); c.is_starred := coalesce(e.is_starred, c.is_starred);
  WHEN 'counted' THEN IF c.status <> 'in_use' THEN c.area_id := e.area_id; END IF;
  WHEN 'filled' THEN
    c.filled_on := e.filled_on; c.contents_kg := coalesce(e.contents_kg, s.nominal_kg);
    IF c.status IN ('partial', 'empty') THEN c.status := 'full'; END IF;
  WHEN 'found' THEN c.site_id := e.site_id; c.area_id := e.area_id; c.arrived_at := e.at; c.status := kerf_fill_status(c.contents_kg, s);
  WHEN 'returned' THEN c.status := 'returned'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL;
  WHEN 'sent_for_test' THEN c.status := 'at_test'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL;
  WHEN 'lost' THEN
    c.status := 'lost'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL; c.outfit_id := NULL; c.side := NULL; c.place := NULL;
  WHEN 'scrapped' THEN c.status := 'scrapped'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL;
  END CASE;
  IF c.condition <> 'sound' AND c.status IN ('full', 'partial', 'empty') THEN c.status := 'quarantined'; END IF;
  RETURN c;
END $$;

CREATE OR REPLACE FUNCTION kerf_cylinder_store(c cylinders) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  UPDATE cylinders SET site_id = c.site_id, area_id = c.area_id, outfit_id = c.outfit_id, side = c.side, place = c.place, status = c.status,
    contents_kg = c.contents_kg, contents_u_kg = c.contents_u_kg, last_reading_at = c.last_reading_at, filled_on = c.filled_on,
    arrived_at = c.arrived_at, requalified_on = c.requalified_on, due_month = c.due_month, last_seq = c.last_seq,
    ownership = c.ownership, condition = c.condition, batch = c.batch, test_method = c.test_method, is_starred = c.is_starred
  WHERE id = c.id
$$;

CREATE OR REPLACE FUNCTION kerf_cylinder_event() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  c cylinders%ROWTYPE;
  s cylinder_sizes%ROWTYPE;
  last_at timestamptz;
BEGIN
  SELECT * INTO c FROM cylinders WHERE id = NEW.cylinder_id FOR NO KEY UPDATE;
  IF c.id IS NULL THEN PERFORM kerf_refuse('CYLINDER_UNKNOWN'); END IF;
  IF NEW.kind IN ('put_on', 'found_on') THEN PERFORM 1 FROM outfits WHERE id = NEW.outfit_id FOR NO KEY UPDATE; END IF;
  NEW.recorded_at := kerf_now(); NEW.seq := c.last_seq + 1;
  -- The column's default was the clock before the lock was held; what happened just now cannot precede what the lock waited for.
  SELECT x.at INTO last_at FROM cylinder_events x WHERE x.cylinder_id = c.id AND x.seq = c.last_seq;
  IF NEW.at > NEW.recorded_at THEN PERFORM kerf_refuse('IN_FUTURE'); END IF;
  IF NEW.at < last_at AND NEW.at > NEW.recorded_at - interval '30 seconds' THEN NEW.at := last_at; END IF;
  IF NEW.at < last_at THEN PERFORM kerf_refuse('OUT_OF_ORDER', jsonb_build_object('serial', c.serial, 'lastAt', kerf_ms(last_at))); END IF;
  PERFORM kerf_refuse_all(kerf_cylinder_reasons(c, NEW));
  SELECT * INTO s FROM cylinder_sizes WHERE id = c.size_id;
  s.nominal_kg := s.nominal_kg * c.holds; s.heel_kg := s.heel_kg * c.holds; -- a pack is filled and emptied as one
  PERFORM kerf_cylinder_store(kerf_cylinder_next(c, NEW, s, NEW.kind = 'taken_off' AND kerf_hung_wrong(c.id, NEW.seq)));
  IF NEW.kind = 'found_on' THEN
    INSERT INTO outfit_events (id, outfit_id, site_id, kind, person_id, role_then, reason, data)
    VALUES (gen_random_uuid(), NEW.outfit_id, NEW.site_id, 'out_of_service', NEW.person_id, NEW.role_then, 'found_on', jsonb_build_object('cylinderEventId', NEW.id));
  END IF;
  RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION kerf_rebuild_cylinders() RETURNS bigint LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  c cylinders%ROWTYPE;
  s cylinder_sizes%ROWTYPE;
  e cylinder_events%ROWTYPE;
  hung_wrong boolean;
  done bigint := 0;
BEGIN
  FOR c IN SELECT * FROM cylinders LOOP
    SELECT * INTO s FROM cylinder_sizes WHERE id = c.size_id;
    s.nominal_kg := s.nominal_kg * c.holds; s.heel_kg := s.heel_kg * c.holds;
    c.site_id := NULL; c.area_id := NULL; c.outfit_id := NULL; c.side := NULL; c.place := NULL; c.status := 'new';
    c.contents_kg := NULL; c.contents_u_kg := NULL; c.last_reading_at := NULL; c.arrived_at := NULL; c.last_seq := 0;
    c.filled_on := NULL; c.condition := 'sound'; c.batch := NULL;
    hung_wrong := false;
    FOR e IN SELECT * FROM cylinder_events x WHERE x.cylinder_id = c.id ORDER BY x.seq LOOP
      IF e.kind IN ('put_on', 'found_on') THEN hung_wrong := e.kind = 'found_on'; END IF;
      c := kerf_cylinder_next(c, e, s, e.kind = 'taken_off' AND hung_wrong);
      done := done + 1;
    END LOOP;
    PERFORM kerf_cylinder_store(c);
  END LOOP;
  RETURN done;
END $$;

REVOKE ALL ON FUNCTION kerf_spec(text), kerf_due_latest(cylinders, date, text, boolean) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT EXECUTE ON FUNCTION kerf_spec(text), kerf_due_latest(cylinders, date, text, boolean) TO kerfwatch_runtime;
  END IF;
END $$;
