-- A truck past materials of trade leaves with papers, with a driver whose training is on record that day, and
-- with placards where one body holds 1,001 lb. Nobody's word replaces the record: driver_trained is the trigger's.
CREATE OR REPLACE FUNCTION kerf_trip() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  pound constant float := 0.45359237;
  open_checks text[];
  total float;
  heaviest float;
  fullest float;
BEGIN
  IF TG_OP = 'INSERT' THEN
    NEW.state := 'loading'; NEW.made_at := kerf_now(); NEW.left_at := NULL; NEW.ended_at := NULL; NEW.driver_trained := false;
    IF NOT EXISTS (SELECT 1 FROM vehicles v WHERE v.id = NEW.vehicle_id AND v.removed_at IS NULL) THEN PERFORM kerf_refuse('VEHICLE_GONE'); END IF;
    RETURN NEW;
  END IF;
  IF OLD.state = 'ended' OR (OLD.state = 'under_way' AND NEW.state = 'loading') THEN PERFORM kerf_refuse('TRIP_STATE', jsonb_build_object('state', OLD.state)); END IF;
  NEW.driver_trained := OLD.driver_trained;
  IF OLD.state = 'loading' AND NEW.state = 'under_way' THEN
    SELECT coalesce(sum(i.gross_kg), 0) + NEW.other_gross_kg, coalesce(max(i.gross_kg), 0) INTO total, heaviest
      FROM trip_items i WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL;
    SELECT coalesce(max(b.kg), 0) INTO fullest
      FROM (SELECT sum(i.gross_kg) AS kg FROM trip_items i WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL GROUP BY i.body) b;
    IF heaviest = 0 THEN PERFORM kerf_refuse('LOAD_EMPTY'); END IF;
    SELECT array_agg(c) INTO open_checks
      FROM unnest(ARRAY['regulatorsOff', 'valvesShut', 'capped', 'upright', 'lashed', 'ventilated', 'apart', 'driverTold']) c WHERE NOT NEW.checks ? c;
    IF open_checks IS NOT NULL THEN PERFORM kerf_refuse('LOAD_CHECK_OPEN', jsonb_build_object('check', open_checks[1], 'citation', '')); END IF;
    NEW.driver_trained := EXISTS (SELECT 1 FROM qualifications q WHERE q.person_id = NEW.driver_id AND q.kind = 'hazmat_driver'
      AND kerf_site_day(NEW.site_id, kerf_now()) BETWEEN q.valid_from AND q.valid_until);
    -- 220 lb and 440 lb in kilograms: above them papers and a trained driver.
    IF total > 440 * pound * (1 + 1e-9) OR heaviest > 220 * pound * (1 + 1e-9) OR NEW.purpose <> 'supports_principal_business' THEN
      IF coalesce(NEW.shipping_paper_no, '') = '' THEN
        PERFORM kerf_refuse('LOAD_NEEDS_PAPERS', jsonb_build_object('aggregateLb', round((total / pound)::numeric, 1), 'citation', '49 CFR 173.6(a)(2), (d)'));
      END IF;
      IF NOT NEW.driver_trained THEN PERFORM kerf_refuse('LOAD_DRIVER_UNTRAINED', jsonb_build_object('citation', '49 CFR 172.704')); END IF;
      IF fullest >= 1001 * pound * (1 - 1e-9) AND NOT NEW.placards_shown THEN
        PERFORM kerf_refuse('LOAD_PLACARDS', jsonb_build_object('grossLb', round((fullest / pound)::numeric, 1), 'citation', '49 CFR 172.504(c)'));
      END IF;
    END IF;
    NEW.left_at := kerf_now();
  END IF;
  IF NEW.state = 'ended' THEN
    IF EXISTS (SELECT 1 FROM trip_items i WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL) THEN PERFORM kerf_refuse('TRIP_STILL_LOADED'); END IF;
    NEW.ended_at := kerf_now();
  END IF;
  RETURN NEW;
END $$;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN REVOKE UPDATE (driver_trained) ON trips FROM kerfwatch_runtime; END IF;
END $$;
