-- The host's own permit and the entry permit end when they end, and ours with them at the latest.
ALTER TABLE permits ADD COLUMN "host_permit_until" TIMESTAMPTZ(3), ADD COLUMN "entry_permit_until" TIMESTAMPTZ(3),
  ADD CONSTRAINT permits_linked CHECK ((host_permit_until IS NULL OR host_permit IS NOT NULL) AND (entry_permit_until IS NULL OR entry_permit IS NOT NULL));

CREATE FUNCTION kerf_linked_caps() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
  until timestamptz := (NEW.data ->> 'validUntil')::timestamptz;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF until > p.host_permit_until THEN reasons := reasons || kerf_reason('VALID_OVER_HOST', jsonb_build_object('number', p.host_permit, 'untilAt', kerf_ms(p.host_permit_until))); END IF;
  IF until > p.entry_permit_until THEN reasons := reasons || kerf_reason('VALID_OVER_ENTRY', jsonb_build_object('number', p.entry_permit, 'untilAt', kerf_ms(p.entry_permit_until))); END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
-- Fires before the event's own check, by its name.
CREATE TRIGGER linked_caps BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'issued') EXECUTE FUNCTION kerf_linked_caps();
REVOKE ALL ON FUNCTION kerf_linked_caps() FROM PUBLIC;

-- What is signed says when they end.
DO $$
DECLARE
  before text := pg_get_functiondef('kerf_permit_content(uuid)'::regprocedure);
  after text := replace(before, 'p.host_permit, p.entry_permit,', 'p.host_permit, kerf_ms(p.host_permit_until) AS host_until, p.entry_permit, kerf_ms(p.entry_permit_until) AS entry_until,');
BEGIN
  IF after = before THEN RAISE EXCEPTION 'the signed content names no linked permit'; END IF;
  EXECUTE after;
END $$;
