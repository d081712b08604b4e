-- A recorded survey that found no further fire hazard leaves of the watch only what the other texts and the company ask
-- (29 CFR 1915.504(b)); what was frozen says how much, and a spot fire or work outside the permit undoes it.
ALTER TABLE permit_events DROP CONSTRAINT permit_events_kind;
ALTER TABLE permit_events ADD CONSTRAINT permit_events_kind CHECK (kind IN ('prepared', 'cleared', 'clearance_reopened', 'issued', 'held', 'resumed', 'work_ended', 'expired', 'stopped', 'stop_withdrawn', 'watch_on', 'watch_off', 'operator_on', 'operator_off', 'round', 'monitored', 'final_look', 'statement', 'reopened', 'closed', 'withdrawn', 'watch_restarted', 'impairment_restored', 'note', 'surveyed'));

CREATE FUNCTION kerf_is_surveyed(p permits) RETURNS boolean LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT EXISTS (SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'surveyed' AND e.at >= p.torch_out_at)
$$;

-- The minutes as they stand.
CREATE FUNCTION kerf_watch_owed(p permits) RETURNS int LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT CASE WHEN kerf_is_surveyed(p) THEN coalesce(ceil((p.frozen #>> '{duties,watchMinAfterSurvey}')::numeric)::int, p.watch_minutes) ELSE p.watch_minutes END
$$;
CREATE FUNCTION kerf_final_look_owed(p permits) RETURNS int LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT CASE WHEN kerf_is_surveyed(p) THEN coalesce(ceil((p.frozen #>> '{duties,finalLookMinAfterSurvey}')::numeric)::int, p.final_look_minutes) ELSE p.final_look_minutes END
$$;

-- What counted the frozen minutes counts the owed ones. Each function is taken as it stands, so that nothing else of it changes.
DO $$
DECLARE
  one record;
  before text;
  after text;
BEGIN
  FOR one IN SELECT * FROM (VALUES
    ('kerf_watch_progress(uuid, timestamptz)', 'p.torch_out_at, p.watch_minutes,', 'p.torch_out_at, kerf_watch_owed(p),'),
    ('kerf_watch_reasons(permits, timestamptz)', 'p.watch_minutes', 'kerf_watch_owed(p)'),
    ('kerf_close_reasons(permits, timestamptz)', 'p.final_look_minutes', 'kerf_final_look_owed(p)'),
    ('kerf_event_reasons(permits, permit_events)', 'p.final_look_minutes', 'kerf_final_look_owed(p)'),
    ('kerf_event_states(text)', 'WHEN ''statement'' THEN ARRAY[''watch'']', 'WHEN ''statement'' THEN ARRAY[''watch''] WHEN ''surveyed'' THEN ARRAY[''watch'']')
  ) AS x(fn, old_words, new_words) LOOP
    before := pg_get_functiondef(one.fn::regprocedure);
    after := replace(before, one.old_words, one.new_words);
    IF after = before THEN RAISE EXCEPTION '% does not say %', one.fn, one.old_words; END IF;
    EXECUTE after;
  END LOOP;
END $$;

-- A survey is recorded where it may shorten, of an area that is cold; and no permit is issued whose shorter watch undercuts
-- the company's. Fires after the event's own check, which has locked the permit.
CREATE FUNCTION kerf_survey_shortens() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  least_value numeric;
  short numeric := (NEW.data #>> '{duties,watchMinAfterSurvey}')::numeric;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  IF NEW.kind = 'surveyed' THEN
    IF coalesce((p.frozen #>> '{duties,watchMinAfterSurvey}')::numeric, p.watch_minutes) >= p.watch_minutes THEN PERFORM kerf_refuse('SURVEY_SHORTENS_NOTHING'); END IF;
    PERFORM kerf_refuse_all(kerf_posts_not_cold(p));
  ELSIF short IS NOT NULL AND (NEW.data ->> 'watchRequired')::boolean THEN
    SELECT coalesce((coalesce(l.params -> 'parameters', l.params) ->> 'postWatchMin')::numeric, 0) INTO least_value
    FROM company_layers l WHERE l.from_at <= NEW.at ORDER BY l.from_at DESC, l.id DESC LIMIT 1;
    IF short < least_value THEN
      PERFORM kerf_refuse('BELOW_COMPANY', jsonb_build_object('duty', 'watchMinAfterSurvey', 'value', short, 'limit', least_value));
    END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER survey_shortens BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind IN ('issued', 'surveyed')) EXECUTE FUNCTION kerf_survey_shortens();

REVOKE ALL ON FUNCTION kerf_is_surveyed(permits), kerf_watch_owed(permits), kerf_final_look_owed(permits), kerf_survey_shortens() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT EXECUTE ON FUNCTION kerf_is_surveyed(permits), kerf_watch_owed(permits), kerf_final_look_owed(permits) TO kerfwatch_runtime;
  END IF;
END $$;
