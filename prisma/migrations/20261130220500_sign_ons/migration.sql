-- Who was briefed for a permit's area: the crew, visitors and other firms' people. A sign-on is for what the briefing said;
-- once that is something else it is asked for again.
CREATE TABLE "sign_ons" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "person_id" UUID,
    "visitor_name" TEXT,
    "firm" TEXT,
    "how" TEXT NOT NULL,
    "briefed_by" UUID,
    "brief_hash" TEXT NOT NULL DEFAULT '',
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "sign_ons_pkey" PRIMARY KEY ("id"),
    CONSTRAINT sign_ons_who CHECK ((person_id IS NULL) <> (visitor_name IS NULL)),
    CONSTRAINT sign_ons_name CHECK (visitor_name IS NULL OR length(trim(visitor_name)) BETWEEN 2 AND 80),
    CONSTRAINT sign_ons_firm CHECK (firm IS NULL OR (visitor_name IS NOT NULL AND length(trim(firm)) BETWEEN 1 AND 80)),
    -- pin: with their own PIN; word: said to whoever briefed them; code: on their own phone, by the posted code.
    CONSTRAINT sign_ons_how CHECK (how IN ('pin', 'word', 'code') AND (how <> 'pin' OR person_id IS NOT NULL) AND (how = 'pin' OR visitor_name IS NOT NULL) AND (how <> 'word' OR briefed_by IS NOT NULL))
);
ALTER TABLE "sign_ons" ADD CONSTRAINT "sign_ons_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "sign_ons_permit_id_at_idx" ON "sign_ons"("permit_id", "at");
CREATE UNIQUE INDEX sign_ons_once_person ON sign_ons (permit_id, person_id, brief_hash) WHERE person_id IS NOT NULL;
CREATE UNIQUE INDEX sign_ons_once_visitor ON sign_ons (permit_id, lower(trim(visitor_name)), lower(trim(coalesce(firm, ''))), brief_hash) WHERE visitor_name IS NOT NULL;

-- What a briefing says: the work, the place, the people, and what the survey and the drawing found.
CREATE FUNCTION kerf_brief_hash(wanted uuid) RETURNS text LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT encode(sha256(convert_to((kerf_permit_content(wanted) - 'rules' - 'life' - 'pictures')::text, 'UTF8')), 'hex')
$$;

CREATE FUNCTION kerf_sign_on() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id; NEW.brief_hash := kerf_brief_hash(p.id);
  IF p.state NOT IN ('cleared', 'open', 'held', 'watch') THEN
    PERFORM kerf_refuse('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'sign_on'));
  END IF;
  -- Whoever holds the posted code may write names here; not a book of them.
  IF NEW.how = 'code' AND (SELECT count(*) FROM sign_ons s WHERE s.permit_id = p.id AND s.how = 'code') >= 200 THEN
    PERFORM kerf_refuse('SIGN_ONS_FULL');
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER sign_on BEFORE INSERT ON sign_ons FOR EACH ROW EXECUTE FUNCTION kerf_sign_on();
CREATE TRIGGER append_only BEFORE UPDATE ON sign_ons FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON sign_ons FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON sign_ons FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON sign_ons DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'permit_id');
CREATE TRIGGER wake AFTER INSERT ON sign_ons FOR EACH ROW EXECUTE FUNCTION kerf_notify('permit_id');

-- The last on an owed watch hands it to somebody, who takes it with their own PIN, or says why they leave it to nobody.
CREATE FUNCTION kerf_leaving_says() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  leaver uuid := coalesce(NEW.subject_id, NEW.person_id);
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF session_user <> current_user AND p.state IN ('held', 'watch') AND p.watch_required AND length(trim(coalesce(NEW.data ->> 'reason', ''))) = 0
     AND NOT EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND s.to_at IS NULL AND s.person_id <> leaver) THEN
    PERFORM kerf_refuse('LEAVING_UNSAID');
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER leaving_says BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'watch_off') EXECUTE FUNCTION kerf_leaving_says();

REVOKE ALL ON sign_ons FROM PUBLIC;
REVOKE ALL ON FUNCTION kerf_brief_hash(uuid), kerf_sign_on(), kerf_leaving_says() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON sign_ons TO kerfwatch_runtime;
    GRANT EXECUTE ON FUNCTION kerf_brief_hash(uuid) TO kerfwatch_runtime;
  END IF;
END $$;
