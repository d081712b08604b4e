-- When the site's shifts begin, by its clock; an open permit is looked at anew in each.
ALTER TABLE sites ADD COLUMN "shift_starts" TEXT[] NOT NULL DEFAULT '{}',
  ADD CONSTRAINT sites_shift_starts CHECK (cardinality(shift_starts) <= 6
    AND array_to_string(shift_starts, ' ') ~ '^(([01][0-9]|2[0-3]):[0-5][0-9]( |$))*$');
CREATE CONSTRAINT TRIGGER audit_shifts AFTER UPDATE OF shift_starts ON sites DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('company', 'id');

-- The first shift after a look made at `looked`: one made in the half hour before a shift begins is that shift's.
CREATE FUNCTION kerf_shift_after(site uuid, looked timestamptz) RETURNS timestamptz LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT min(begins) FROM (
    SELECT (day + clock::time) AT TIME ZONE s.zone AS begins
    FROM sites s, unnest(s.shift_starts) AS clock, LATERAL (SELECT (looked AT TIME ZONE s.zone)::date + n AS day FROM generate_series(0, 2) AS n) AS days
    WHERE s.id = site) AS starts
  WHERE begins > looked + interval '30 minutes'
$$;

-- Why a look made then does not serve at this instant: a new shift has begun, or it is too long ago.
CREATE FUNCTION kerf_look_reasons(site uuid, duties jsonb, looked timestamptz, at timestamptz) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT CASE WHEN (duties ->> 'reinspectEachShift')::boolean AND kerf_shift_after(site, looked) <= at
              THEN kerf_reason('LOOK_DUE_SHIFT', jsonb_build_object('shiftAt', kerf_ms(kerf_shift_after(site, looked)))) ELSE '[]' END
      || CASE WHEN at > looked + kerf_minutes((duties ->> 'reinspectEveryHours')::numeric * 60)
              THEN kerf_reason('LOOK_DUE_HOURS', jsonb_build_object('hours', duties -> 'reinspectEveryHours')) ELSE '[]' END
$$;

-- The last look on the spot up to an instant: the clearance, or an answer given in a hold or a watch since.
CREATE FUNCTION kerf_looked_at(p permits, until timestamptz) RETURNS timestamptz LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT greatest(CASE WHEN p.cleared_at <= until THEN p.cleared_at END, max(a.at)) FROM clearance_answers a
  WHERE a.permit_id = p.id AND p.issued_at IS NOT NULL AND a.at > p.issued_at AND a.at <= until
$$;

-- Work is issued, gone on with and logged on a look that serves. Fires before the event's own check, by its name, and leaves
-- a wrong state to that.
CREATE FUNCTION kerf_look_serves() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.state <> ALL (kerf_event_states(NEW.kind)) THEN RETURN NEW; END IF;
  PERFORM kerf_refuse_all(kerf_look_reasons(p.site_id, CASE NEW.kind WHEN 'issued' THEN NEW.data -> 'duties' ELSE p.frozen -> 'duties' END,
    kerf_looked_at(p, kerf_now()), kerf_now()));
  RETURN NEW;
END $$;
CREATE TRIGGER look_serves BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind IN ('issued', 'resumed', 'reopened')) EXECUTE FUNCTION kerf_look_serves();

-- What was cut after the look no longer served was not under the permit, however late somebody held it.
CREATE FUNCTION kerf_log_looked() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  PERFORM kerf_refuse_all(kerf_look_reasons(p.site_id, p.frozen -> 'duties', kerf_looked_at(p, NEW.from_at), NEW.to_at - interval '1 millisecond'));
  RETURN NEW;
END $$;
CREATE TRIGGER log_looked BEFORE INSERT ON hot_work_logs FOR EACH ROW WHEN (NEW.permit_id IS NOT NULL) EXECUTE FUNCTION kerf_log_looked();

REVOKE ALL ON FUNCTION kerf_shift_after(uuid, timestamptz), kerf_look_reasons(uuid, jsonb, timestamptz, timestamptz), kerf_looked_at(permits, timestamptz), kerf_look_serves(), kerf_log_looked() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT UPDATE (shift_starts) ON sites TO kerfwatch_runtime;
    GRANT EXECUTE ON FUNCTION kerf_shift_after(uuid, timestamptz) TO kerfwatch_runtime;
  END IF;
END $$;
