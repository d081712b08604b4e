-- A signature is for what stood on the screen: it keeps the hash of the permit's content as the signer saw it, and counts
-- only while the content is still that.
ALTER TABLE "signatures" ADD COLUMN "content_hash" TEXT;
ALTER TABLE "signatures" ADD CONSTRAINT signatures_content_hash CHECK (content_hash IS NULL OR content_hash ~ '^[0-9a-f]{64}$');

-- What is signed. Before the issue: the work, its place and people, every answer, the drawing, and the rules in force there.
-- Afterwards what was frozen, and all that has happened under it. A gas test is not part of it: it is its own fact, with its
-- own age and limits, and comes last, before lighting.
CREATE FUNCTION kerf_permit_content(wanted uuid) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT jsonb_build_object(
    'permit', to_jsonb(w),
    'survey', p.survey_no,
    'answers', (SELECT coalesce(jsonb_object_agg(a.item, a.answer), '{}') FROM (
      SELECT DISTINCT ON (x.item) x.item, x.answer FROM clearance_answers x
      WHERE x.permit_id = p.id AND x.survey_no = p.survey_no ORDER BY x.item, x.at DESC, x.id DESC) a),
    'drawing', (SELECT max(d.revision) FROM area_drawings d WHERE d.permit_id = p.id),
    'pictures', (SELECT coalesce(jsonb_agg(x.sha256 ORDER BY x.sha256), '[]') FROM pictures x WHERE x.permit_id = p.id AND x.purpose <> 'paper'),
    'rules', CASE WHEN p.issued_at IS NULL THEN jsonb_build_object(
      'area', (SELECT jsonb_build_object('name', a.name, 'class', a.area_class, 'facts', a.facts, 'posts', a.posts) FROM areas a WHERE a.id = p.area_id),
      'layers', (SELECT coalesce(jsonb_agg(r.ruleset_id ORDER BY r.ruleset_id), '[]') FROM site_rulesets r
                 WHERE r.site_id = p.site_id AND r.from_at <= kerf_now() AND (r.to_at IS NULL OR r.to_at > kerf_now())),
      'local', (SELECT coalesce(jsonb_agg(l.id ORDER BY l.id), '[]') FROM local_rulesets l JOIN site_rulesets r ON r.ruleset_id = l.ruleset_id
                WHERE r.site_id = p.site_id AND r.to_at IS NULL),
      'company', (SELECT c.id FROM company_layers c WHERE c.from_at <= kerf_now() ORDER BY c.from_at DESC LIMIT 1))
    ELSE jsonb_build_object('frozen', p.frozen, 'until', kerf_ms(p.valid_until)) END,
    'life', CASE WHEN p.issued_at IS NOT NULL THEN jsonb_build_object(
      'state', p.state, 'events', p.last_event_seq, 'torchOut', kerf_ms(p.torch_out_at),
      'rounds', (SELECT count(*) FROM rounds r WHERE r.permit_id = p.id)) END)
  FROM permits p, LATERAL (SELECT p.site_id, p.area_id, p.job_id, p.cut_list_id, p.outfit_id, p.number, p.process, p.what, p.where_words,
      p.cold_answer, p.host_permit, p.entry_permit, p.isolation, kerf_ms(p.planned_from) AS planned_from,
      kerf_ms(p.planned_until) AS planned_until, p.operator_id, p.fire_watch_id) w
  WHERE p.id = wanted
$$;

CREATE FUNCTION kerf_permit_hash(wanted uuid) RETURNS text LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT encode(sha256(convert_to(kerf_permit_content(wanted)::text, 'UTF8')), 'hex')
$$;

-- Before the signature's own check, which locks the same permit: whoever signs says what they saw, and it is still so. The
-- owner, who plays the past, signs what is there.
CREATE FUNCTION kerf_signature_content() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  now_hash text;
  watched text;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  now_hash := kerf_permit_hash(p.id);
  IF NEW.content_hash IS NULL AND session_user = current_user THEN NEW.content_hash := now_hash; END IF;
  IF NEW.content_hash IS DISTINCT FROM now_hash THEN PERFORM kerf_refuse('CONTENT_CHANGED'); END IF;
  IF NEW.act = 'final_pai' AND p.watch_required THEN
    SELECT s.content_hash INTO watched FROM signatures s WHERE s.permit_id = p.id AND s.act = 'final_watch' ORDER BY s.at DESC, s.id DESC LIMIT 1;
    IF watched IS NOT NULL AND watched <> now_hash THEN PERFORM kerf_refuse('SIGNATURE_VOIDED', '{"act": "final_watch"}'); END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER content BEFORE INSERT ON signatures FOR EACH ROW EXECUTE FUNCTION kerf_signature_content();

-- A permit is closed on the final signatures for what is there now. Fires before the event's own check, by its name, and
-- leaves every other reason to that.
CREATE FUNCTION kerf_closing_signed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  last_hash text;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  SELECT s.content_hash INTO last_hash FROM signatures s WHERE s.permit_id = p.id AND s.act = 'final_pai' ORDER BY s.at DESC, s.id DESC LIMIT 1;
  IF last_hash <> kerf_permit_hash(p.id) AND p.state = 'watch' AND jsonb_array_length(kerf_close_reasons(p, kerf_now())) = 0 THEN PERFORM kerf_refuse('SIGNATURE_VOIDED', '{"act": "final_pai"}'); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER closing_signed BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'closed') EXECUTE FUNCTION kerf_closing_signed();

-- Until the issue a signature counts while what it was given for is unchanged.
CREATE OR REPLACE FUNCTION kerf_signed_at(p permits, wanted text, by_person uuid, since timestamptz) RETURNS timestamptz LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT max(s.at) FROM signatures s
  WHERE s.permit_id = p.id AND s.act = wanted AND s.survey_no = p.survey_no
    AND s.person_id = coalesce(by_person, s.person_id) AND s.at >= since
    AND (p.issued_at IS NOT NULL OR s.content_hash = kerf_permit_hash(p.id))
$$;

-- ── Who cuts and who watches may change until the issue ───────────────────────

CREATE TABLE "permit_people" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "operator_id" UUID NOT NULL,
    "fire_watch_id" UUID,
    "why" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "permit_people_pkey" PRIMARY KEY ("id"),
    CONSTRAINT permit_people_apart CHECK (operator_id <> fire_watch_id),
    CONSTRAINT permit_people_why CHECK (length(trim(why)) > 0)
);
ALTER TABLE "permit_people" ADD CONSTRAINT "permit_people_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "permit_people_permit_id_at_idx" ON "permit_people"("permit_id", "at");

CREATE FUNCTION kerf_permit_people() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
  day date;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id; day := kerf_site_day(p.site_id, NEW.at);
  IF p.state NOT IN ('preparing', 'cleared') THEN reasons := kerf_reason('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'people')); END IF;
  reasons := reasons || kerf_person_reasons(NEW.operator_id, 'torch_operator', day);
  IF NEW.fire_watch_id IS NOT NULL THEN reasons := reasons || kerf_person_reasons(NEW.fire_watch_id, 'fire_watch', day); END IF;
  PERFORM kerf_refuse_all(reasons);
  UPDATE permits SET operator_id = NEW.operator_id, fire_watch_id = NEW.fire_watch_id WHERE id = p.id;
  RETURN NEW;
END $$;
CREATE TRIGGER permit_people BEFORE INSERT ON permit_people FOR EACH ROW EXECUTE FUNCTION kerf_permit_people();
CREATE TRIGGER append_only BEFORE UPDATE ON permit_people FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON permit_people FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON permit_people FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON permit_people DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'permit_id');
CREATE TRIGGER wake AFTER INSERT ON permit_people FOR EACH ROW EXECUTE FUNCTION kerf_notify('permit_id');
REVOKE ALL ON permit_people FROM PUBLIC;

-- As before, but that the two people named may change until the issue; their signatures then count no more.
CREATE OR REPLACE FUNCTION kerf_permit_keeps() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
BEGIN
  IF OLD.state IN ('closed', 'withdrawn')
     AND (to_jsonb(OLD) - 'last_event_seq' - 'version') <> (to_jsonb(NEW) - 'last_event_seq' - 'version') THEN -- a note may still be added
    reasons := reasons || kerf_reason('PERMIT_OVER', jsonb_build_object('state', OLD.state));
  END IF;
  IF (OLD.site_id, OLD.area_id, OLD.job_id, OLD.number, OLD.stop_code)
     IS DISTINCT FROM (NEW.site_id, NEW.area_id, NEW.job_id, NEW.number, NEW.stop_code) OR OLD.created_at <> NEW.created_at
     OR ((OLD.operator_id, OLD.fire_watch_id) IS DISTINCT FROM (NEW.operator_id, NEW.fire_watch_id)
         AND (OLD.state NOT IN ('preparing', 'cleared') OR NEW.state <> OLD.state)) THEN
    reasons := reasons || kerf_reason('PERMIT_FIXED');
  END IF;
  IF OLD.issued_at IS NOT NULL AND (
       coalesce(NEW.watch_minutes < OLD.watch_minutes, NEW.watch_minutes IS NULL)
    OR coalesce(NEW.monitoring_minutes < OLD.monitoring_minutes, NEW.monitoring_minutes IS NULL)
    OR coalesce(NEW.final_look_minutes < OLD.final_look_minutes, NEW.final_look_minutes IS NULL)
    OR coalesce(NEW.round_interval_min > OLD.round_interval_min, NEW.round_interval_min IS NULL)
    OR coalesce(NEW.gas_test_valid_min > OLD.gas_test_valid_min, NEW.gas_test_valid_min IS NULL)
    OR (OLD.watch_required AND NEW.watch_required IS NOT TRUE)
    OR (OLD.statement_required AND NEW.statement_required IS NOT TRUE)
    OR (OLD.gas_test_required AND NEW.gas_test_required IS NOT TRUE)
    OR NEW.frozen IS DISTINCT FROM OLD.frozen OR NEW.issued_at IS DISTINCT FROM OLD.issued_at OR NEW.issued_by IS DISTINCT FROM OLD.issued_by
    OR coalesce(NEW.valid_until > OLD.valid_until, NEW.valid_until IS NULL)) THEN
    reasons := reasons || kerf_reason('FROZEN');
  END IF;
  IF OLD.stopped_at IS NOT NULL AND (NEW.stopped_at IS DISTINCT FROM OLD.stopped_at OR NEW.state NOT IN ('watch', 'closed', 'withdrawn')) THEN
    reasons := reasons || kerf_reason('PERMIT_STOPPED');
  END IF;
  IF OLD.state IN ('held', 'watch') AND NEW.state IN ('held', 'watch', 'closed') AND NEW.torch_out_at < OLD.torch_out_at THEN
    reasons := reasons || kerf_reason('TORCH_OUT_EARLIER');
  END IF;
  PERFORM kerf_refuse_all(reasons, 'KW004');
  NEW.version := OLD.version + 1;
  RETURN NEW;
END $$;

REVOKE ALL ON FUNCTION kerf_permit_content(uuid), kerf_permit_hash(uuid), kerf_signature_content(), kerf_closing_signed(), kerf_permit_people() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON permit_people TO kerfwatch_runtime;
    GRANT EXECUTE ON FUNCTION kerf_permit_content(uuid), kerf_permit_hash(uuid) TO kerfwatch_runtime;
  END IF;
END $$;
