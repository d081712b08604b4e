-- A vehicle does not leave heavier than its own papers allow, and what it left with is not said anew on the road.
CREATE OR REPLACE FUNCTION kerf_trip() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  pound constant float := 0.45359237;
  open_checks text[];
  total float;
  heaviest float;
  fullest float;
  heavy record;
BEGIN
  IF TG_OP = 'INSERT' THEN
    NEW.state := 'loading'; NEW.made_at := kerf_now(); NEW.left_at := NULL; NEW.ended_at := NULL; NEW.driver_trained := false;
    IF NOT EXISTS (SELECT 1 FROM vehicles v WHERE v.id = NEW.vehicle_id AND v.removed_at IS NULL) THEN PERFORM kerf_refuse('VEHICLE_GONE'); END IF;
    RETURN NEW;
  END IF;
  IF OLD.state = 'ended' OR (OLD.state = 'under_way' AND NEW.state = 'loading') THEN PERFORM kerf_refuse('TRIP_STATE', jsonb_build_object('state', OLD.state)); END IF;
  NEW.driver_trained := OLD.driver_trained;
  -- What it left with stays as it was said.
  IF OLD.state <> 'loading' AND (NEW.checks, NEW.other_gross_kg, coalesce(NEW.shipping_paper_no, ''), NEW.placards_shown)
     IS DISTINCT FROM (OLD.checks, OLD.other_gross_kg, coalesce(OLD.shipping_paper_no, ''), OLD.placards_shown) THEN
    PERFORM kerf_refuse('TRIP_STATE', jsonb_build_object('state', OLD.state));
  END IF;
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
    -- What each body may carry by its own papers; other materials ride on the truck as far as anybody said.
    SELECT b.body, b.kg, b.most INTO heavy
      FROM vehicles v CROSS JOIN LATERAL (VALUES ('truck', v.payload_kg, NEW.other_gross_kg), ('trailer', v.trailer_payload_kg, 0)) AS o(body, most, other)
      CROSS JOIN LATERAL (SELECT o.body, o.most, o.other + coalesce(sum(i.gross_kg), 0) AS kg FROM trip_items i
                          WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL AND i.body = o.body) b
      WHERE v.id = NEW.vehicle_id AND b.kg > b.most * (1 + 1e-9) ORDER BY b.body DESC LIMIT 1;
    IF FOUND THEN
      PERFORM kerf_refuse('LOAD_PAYLOAD', jsonb_build_object('body', heavy.body, 'grossLb', round((heavy.kg / pound)::numeric, 1), 'mostLb', round((heavy.most / pound)::numeric, 1)));
    END IF;
    NEW.left_at := kerf_now();
  END IF;
  IF NEW.state = 'ended' THEN
    IF EXISTS (SELECT 1 FROM trip_items i WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL) THEN PERFORM kerf_refuse('TRIP_STILL_LOADED'); END IF;
    NEW.ended_at := kerf_now();
  END IF;
  RETURN NEW;
END $$;
