-- Hoses and torch are looked at in each shift where the rules ask for it, and an outfit that goes out of service takes the
-- work under it with it.

-- Why the outfit of a permit may not be lit now: nobody looked at it whole in this shift. Sites that keep no shifts ask nothing.
CREATE FUNCTION kerf_gear_reasons(p permits, duties jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  checked timestamptz;
  fit text;
BEGIN
  IF (duties ->> 'gearCheckEachShift')::boolean IS NOT TRUE OR p.outfit_id IS NULL
     OR NOT EXISTS (SELECT 1 FROM sites s WHERE s.id = p.site_id AND cardinality(s.shift_starts) > 0) THEN RETURN '[]'; END IF;
  SELECT o.number INTO fit FROM outfits o WHERE o.id = p.outfit_id;
  SELECT max(e.at) INTO checked FROM outfit_events e WHERE e.outfit_id = p.outfit_id AND e.kind = 'inspected' AND kerf_check_verdict(e) = 'passed' AND e.at <= now_at;
  IF checked IS NULL OR kerf_shift_after(p.site_id, checked) <= now_at THEN RETURN kerf_reason('GEAR_CHECK_DUE', jsonb_build_object('outfit', fit)); END IF;
  RETURN '[]';
END $$;

CREATE OR REPLACE FUNCTION kerf_look_serves() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  duties jsonb;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.state <> ALL (kerf_event_states(NEW.kind)) THEN RETURN NEW; END IF;
  duties := CASE NEW.kind WHEN 'issued' THEN NEW.data -> 'duties' ELSE p.frozen -> 'duties' END;
  PERFORM kerf_refuse_all(kerf_look_reasons(p.site_id, duties, kerf_looked_at(p, kerf_now()), kerf_now()) || kerf_gear_reasons(p, duties, kerf_now()));
  RETURN NEW;
END $$;

-- Permits before outfits, as everywhere: who reports an incident holds them in that order too.
CREATE FUNCTION kerf_open_permits_first() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM permits p WHERE p.outfit_id = NEW.outfit_id AND p.state = 'open' ORDER BY p.id FOR NO KEY UPDATE;
  RETURN NEW;
END $$;
CREATE TRIGGER open_permits_first BEFORE INSERT ON outfit_events FOR EACH ROW EXECUTE FUNCTION kerf_open_permits_first();

CREATE FUNCTION kerf_outfit_out_holds() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
  SELECT gen_random_uuid(), p.site_id, p.id, 'held', NEW.person_id, NEW.role_then, NEW.id, jsonb_build_object('reason', 'outfit', 'event', NEW.kind)
  FROM permits p JOIN outfits o ON o.id = p.outfit_id
  WHERE p.outfit_id = NEW.outfit_id AND p.state = 'open' AND o.state = 'out_of_service' ORDER BY p.id;
  RETURN NULL;
END $$;
CREATE TRIGGER outfit_out_holds AFTER INSERT ON outfit_events FOR EACH ROW EXECUTE FUNCTION kerf_outfit_out_holds();

REVOKE ALL ON FUNCTION kerf_gear_reasons(permits, jsonb, timestamptz), kerf_open_permits_first(), kerf_outfit_out_holds() FROM PUBLIC;
