-- An operator who is alone on the job: the client's own person takes part in the assessment, watches, and authorises (NFPA 51B on
-- sole proprietors, from memory). The site says whether that may be; otherwise operator, watch and PAI are three.
ALTER TABLE sites ADD COLUMN "lone_operator" BOOLEAN NOT NULL DEFAULT false;
CREATE CONSTRAINT TRIGGER audit_lone AFTER UPDATE OF lone_operator ON sites DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (OLD.lone_operator <> NEW.lone_operator) EXECUTE FUNCTION kerf_audit('company', 'id');
-- The client whose person it is; null where the operator is not alone.
ALTER TABLE permits ADD COLUMN "lone_client" TEXT, ADD CONSTRAINT permits_lone_client CHECK (lone_client IS NULL OR length(trim(lone_client)) BETWEEN 1 AND 80);

CREATE FUNCTION kerf_three_people() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.lone_client IS NULL THEN
    IF NEW.person_id = p.fire_watch_id THEN reasons := kerf_reason('PAI_IS_WATCH'); END IF;
  ELSE
    IF NOT (SELECT s.lone_operator FROM sites s WHERE s.id = p.site_id) THEN reasons := kerf_reason('LONE_NOT_ALLOWED'); END IF;
    IF NEW.person_id IS DISTINCT FROM p.fire_watch_id THEN reasons := reasons || kerf_reason('LONE_OTHER_SIGNER'); END IF;
    IF NOT EXISTS (SELECT 1 FROM sign_ons s WHERE s.permit_id = p.id AND s.person_id = p.fire_watch_id AND s.brief_hash = kerf_brief_hash(p.id)) THEN
      reasons := reasons || kerf_reason('LONE_NOT_BRIEFED');
    END IF;
  END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
-- Fires after the event's own check, by its name.
CREATE TRIGGER three_people BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'issued') EXECUTE FUNCTION kerf_three_people();
REVOKE ALL ON FUNCTION kerf_three_people() FROM PUBLIC;

-- What is signed says so.
DO $$
DECLARE
  before text := pg_get_functiondef('kerf_permit_content(uuid)'::regprocedure);
  after text := replace(before, 'p.cold_answer, p.host_permit,', 'p.cold_answer, p.lone_client, p.host_permit,');
BEGIN
  IF after = before THEN RAISE EXCEPTION 'the signed content names no cold answer'; END IF;
  EXECUTE after;
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT UPDATE (lone_operator) ON sites TO kerfwatch_runtime; END IF;
END $$;
