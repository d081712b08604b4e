-- Gas tests hold at once, a drop of oxygen asks for its cause, and what is owed after the work is
-- counted here exactly as lib/permit counts it.
ALTER TABLE gas_tests ADD COLUMN oxygen_cause TEXT,
  ADD CONSTRAINT gas_tests_oxygen_cause CHECK (oxygen_cause IS NULL OR length(trim(oxygen_cause)) BETWEEN 1 AND 200);

-- Why the last gas test does not do; empty when none is needed or it does.
CREATE OR REPLACE FUNCTION kerf_gas_test_reasons(p permits, duties jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  t gas_tests%ROWTYPE;
  reasons jsonb := '[]';
  day date := kerf_site_day(p.site_id, now_at);
BEGIN
  SELECT * INTO t FROM gas_tests g WHERE g.permit_id = p.id ORDER BY g.at DESC, g.id DESC LIMIT 1;
  IF (duties ->> 'gasTestNeeded')::boolean THEN
    IF t.id IS NULL THEN RETURN kerf_reason('GAS_TEST_MISSING'); END IF;
    IF now_at >= t.at + kerf_minutes((duties ->> 'gasTestValidMin')::numeric) THEN
      reasons := reasons || kerf_reason('GAS_TEST_OLD', jsonb_build_object('takenAt', kerf_ms(t.at), 'validMin', (duties ->> 'gasTestValidMin')::numeric));
    END IF;
    IF t.bump_tested_on < day OR t.calibrated_until < day THEN
      reasons := reasons || kerf_reason('GAS_TEST_INSTRUMENT', jsonb_build_object('instrument', t.instrument));
    END IF;
  END IF;
  -- A reading out of limits counts even where no test was asked for. In shipyards 22.0 % is already enriched.
  IF t.oxygen_pct < (duties ->> 'oxygenMinPct')::float OR t.oxygen_pct > (duties ->> 'oxygenMaxPct')::float
     OR t.oxygen_pct >= (duties ->> 'oxygenStopAtPct')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_OXYGEN', jsonb_build_object('oxygenPct', t.oxygen_pct, 'minPct', duties -> 'oxygenMinPct', 'maxPct', duties -> 'oxygenMaxPct'));
  END IF;
  -- Air has 20.9 %: something took the rest away, and that may go on.
  IF t.oxygen_pct < 20.9 AND t.oxygen_cause IS NULL THEN
    reasons := reasons || kerf_reason('GAS_TEST_CAUSE', jsonb_build_object('oxygenPct', t.oxygen_pct));
  END IF;
  IF t.lel_pct > (duties ->> 'lelMaxPct')::float OR t.lel_pct >= (duties ->> 'lelStopAtPct')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_LEL', jsonb_build_object('lelPct', t.lel_pct, 'maxPct', duties -> 'lelMaxPct'));
  END IF;
  IF t.co_ppm > (duties ->> 'coMaxPpm')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_CO', jsonb_build_object('ppm', t.co_ppm, 'maxPpm', duties -> 'coMaxPpm'));
  END IF;
  IF t.h2s_ppm > (duties ->> 'h2sMaxPpm')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_H2S', jsonb_build_object('ppm', t.h2s_ppm, 'maxPpm', duties -> 'h2sMaxPpm'));
  END IF;
  RETURN reasons;
END $$;

-- Bad air under an open permit holds it in the same breath, whoever wrote it down.
CREATE FUNCTION kerf_gas_test_holds() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id; -- locked when the test was written
  IF p.state <> 'open' THEN RETURN NULL; END IF;
  reasons := kerf_gas_test_reasons(p, p.frozen -> 'duties', NEW.at);
  IF jsonb_array_length(reasons) > 0 THEN
    INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
    VALUES (gen_random_uuid(), p.site_id, p.id, 'held', NEW.person_id, NEW.role_then, NEW.id,
            jsonb_build_object('reason', 'gas_test', 'reasons', (SELECT jsonb_agg(r -> 'code') FROM jsonb_array_elements(reasons) AS r)));
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER gas_test_holds AFTER INSERT ON gas_tests FOR EACH ROW EXECUTE FUNCTION kerf_gas_test_holds();

-- When monitoring has lasted: from the end of the watch, or from the first look after a gap longer
-- than the text allows between two looks; null while the watch still runs.
CREATE FUNCTION kerf_monitoring_end(p permits, watch_done timestamptz) RETURNS timestamptz LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  every_min numeric := (p.frozen #>> '{duties,monitoringCheckEveryMin}')::numeric;
  since timestamptz := watch_done;
  last_look timestamptz := watch_done;
  look timestamptz;
BEGIN
  IF watch_done IS NULL THEN RETURN NULL; END IF;
  IF every_min IS NOT NULL THEN
    FOR look IN SELECT e.at FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'monitored' AND e.at >= watch_done ORDER BY e.at LOOP
      IF look > last_look + kerf_minutes(every_min) THEN since := look; END IF;
      last_look := look;
    END LOOP;
  END IF;
  RETURN since + kerf_minutes(p.monitoring_minutes);
END $$;

-- The watch and the monitoring that are still owed.
CREATE FUNCTION kerf_watch_reasons(p permits, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  w record;
  monitored_by timestamptz;
BEGIN
  SELECT * INTO w FROM kerf_watch_progress(p.id, now_at);
  IF w.done_at IS NULL THEN
    RETURN kerf_reason('WATCH_NOT_DONE', jsonb_build_object('remainingMin', ceil((p.watch_minutes * 60000::bigint - coalesce(w.credit_ms, 0)) / 60000.0), 'watchMin', p.watch_minutes));
  END IF;
  monitored_by := kerf_monitoring_end(p, w.done_at);
  IF p.monitoring_minutes > 0 AND NOT EXISTS (
    SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'monitored' AND e.at >= monitored_by) THEN
    RETURN kerf_reason('MONITORING_OWED', jsonb_build_object('fromAt', kerf_ms(monitored_by)));
  END IF;
  RETURN '[]';
END $$;

-- Posts whose last answer is warm or smoke.
CREATE FUNCTION kerf_posts_not_cold(p permits) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(jsonb_agg(jsonb_build_object('code', 'POST_NOT_COLD', 'params', jsonb_build_object('post', last.post, 'answer', last.answer)) ORDER BY last.post), '[]')
  FROM (SELECT DISTINCT ON (post) coalesce(a ->> 'postId', a ->> 'post') AS post, a ->> 'answer' AS answer
        FROM rounds r, jsonb_array_elements(r.posts) AS a WHERE r.permit_id = p.id
        ORDER BY post, r.at DESC, r.id DESC) AS last
  WHERE last.answer <> 'clear'
$$;

-- Why the permit may not be closed now: every duty that is still owed.
CREATE OR REPLACE FUNCTION kerf_close_reasons(p permits, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := kerf_watch_reasons(p, now_at);
  w record;
  look_from timestamptz;
  looked timestamptz;
BEGIN
  SELECT * INTO w FROM kerf_watch_progress(p.id, now_at);
  look_from := greatest(kerf_monitoring_end(p, w.done_at), p.torch_out_at + kerf_minutes(p.final_look_minutes));
  SELECT max(e.at) INTO looked FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'final_look';
  IF w.done_at IS NULL OR looked IS NULL OR looked < look_from THEN
    reasons := reasons || kerf_reason('FINAL_LOOK_OWED', jsonb_build_object('fromAt', kerf_ms(look_from)));
  END IF;
  IF p.statement_required AND NOT EXISTS (
    SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'statement' AND e.at >= w.done_at) THEN
    reasons := reasons || kerf_reason('STATEMENT_OWED');
  END IF;
  reasons := reasons || kerf_posts_not_cold(p);
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'IMPAIRMENT_OPEN', 'params', jsonb_build_object('label', coalesce(i ->> 'label', i ->> 'id')))), '[]') INTO reasons
  FROM jsonb_array_elements(coalesce(p.frozen -> 'impairments', '[]')) AS i
  WHERE NOT EXISTS (SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'impairment_restored' AND e.data ->> 'impairmentId' = i ->> 'id');
  -- A last inspection is signed after it was made.
  IF p.watch_required AND NOT EXISTS (
    SELECT 1 FROM signatures s WHERE s.permit_id = p.id AND s.act = 'final_watch' AND s.at >= looked) THEN
    reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'final_watch'));
  END IF;
  IF NOT EXISTS (SELECT 1 FROM signatures s WHERE s.permit_id = p.id AND s.act = 'final_pai' AND s.at >= looked) THEN
    reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'final_pai'));
  END IF;
  RETURN reasons;
END $$;

-- What an event owes beyond its own checks: looks in their order, a look that is not too old, a PAI
-- who came to the site. Fires after the event's own trigger, which has locked the permit.
CREATE FUNCTION kerf_event_owes() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  w record;
  reasons jsonb := '[]';
  came timestamptz := (NEW.data ->> 'paiArrivedAt')::timestamptz;
  looked timestamptz;
  within_min numeric;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  CASE NEW.kind
  WHEN 'issued' THEN
    within_min := (NEW.data #>> '{duties,paiOnSiteWithinMin}')::numeric;
    IF within_min IS NOT NULL AND (came IS NULL OR came > NEW.at OR came < NEW.at - kerf_minutes(within_min)) THEN
      reasons := kerf_reason('PAI_NOT_ON_SITE', jsonb_build_object('withinMin', within_min));
    END IF;
  WHEN 'resumed', 'reopened' THEN
    SELECT max(a.at) INTO looked FROM clearance_answers a WHERE a.permit_id = p.id AND a.survey_no = p.survey_no;
    IF looked < NEW.at - kerf_minutes((p.frozen #>> '{duties,breakLimitMin}')::numeric) THEN
      reasons := kerf_reason('LOOK_TOO_OLD', jsonb_build_object('limitMin', p.frozen #> '{duties,breakLimitMin}'));
    END IF;
  WHEN 'monitored' THEN
    SELECT * INTO w FROM kerf_watch_progress(p.id, NEW.at);
    IF w.done_at IS NULL THEN
      reasons := kerf_watch_reasons(p, NEW.at);
    ELSIF p.frozen #>> '{duties,monitoringCheckEveryMin}' IS NULL AND NEW.at < kerf_monitoring_end(p, w.done_at) THEN
      reasons := kerf_reason('MONITORING_OWED', jsonb_build_object('fromAt', kerf_ms(kerf_monitoring_end(p, w.done_at))));
    END IF;
  WHEN 'final_look' THEN reasons := kerf_watch_reasons(p, NEW.at);
  WHEN 'statement' THEN
    SELECT * INTO w FROM kerf_watch_progress(p.id, NEW.at);
    IF p.statement_required IS NOT TRUE THEN reasons := kerf_reason('STATEMENT_NOT_ASKED'); END IF;
    IF w.done_at IS NULL THEN reasons := reasons || kerf_watch_reasons(p, NEW.at); END IF;
    reasons := reasons || kerf_posts_not_cold(p);
  WHEN 'impairment_restored' THEN
    IF EXISTS (SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = NEW.kind AND e.data -> 'impairmentId' = NEW.data -> 'impairmentId') THEN
      reasons := kerf_reason('IMPAIRMENT_RESTORED');
    END IF;
  ELSE NULL;
  END CASE;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER permit_event_owes BEFORE INSERT ON permit_events FOR EACH ROW EXECUTE FUNCTION kerf_event_owes();

REVOKE ALL ON FUNCTION kerf_gas_test_holds(), kerf_event_owes(), kerf_monitoring_end(permits, timestamptz), kerf_watch_reasons(permits, timestamptz), kerf_posts_not_cold(permits) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT EXECUTE ON FUNCTION kerf_monitoring_end(permits, timestamptz), kerf_watch_reasons(permits, timestamptz), kerf_posts_not_cold(permits) TO kerfwatch_runtime;
  END IF;
END $$;
