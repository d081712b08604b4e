-- Whether the PAI may stand the fire watch. NFPA 51B does not bar it (from memory, low confidence), so the site says, and off at
-- first. Not where 29 CFR 1915.504(c)(1) holds: its fire watch has no other duties, and a PAI has some.
ALTER TABLE sites ADD COLUMN "pai_may_watch" BOOLEAN NOT NULL DEFAULT false;
CREATE CONSTRAINT TRIGGER audit_pai_may_watch AFTER UPDATE OF pai_may_watch ON sites DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (OLD.pai_may_watch <> NEW.pai_may_watch) EXECUTE FUNCTION kerf_audit('company', 'id');

-- The twin of lib/permit's paiMayWatch.
CREATE FUNCTION kerf_pai_may_watch(site uuid, instant timestamptz) RETURNS boolean LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT s.pai_may_watch AND NOT EXISTS (
    SELECT 1 FROM site_rulesets r WHERE r.site_id = s.id AND r.ruleset_id = 'us-osha-1915' AND r.from_at <= instant AND (r.to_at IS NULL OR r.to_at > instant))
  FROM sites s WHERE s.id = site
$$;

CREATE OR REPLACE FUNCTION kerf_three_people() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.lone_client IS NULL THEN
    IF NEW.person_id = p.fire_watch_id AND NOT kerf_pai_may_watch(p.site_id, kerf_now()) THEN reasons := kerf_reason('PAI_IS_WATCH'); END IF;
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

REVOKE ALL ON FUNCTION kerf_pai_may_watch(uuid, timestamptz) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT UPDATE (pai_may_watch) ON sites TO kerfwatch_runtime; END IF;
END $$;
