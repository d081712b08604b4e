-- What the app reports at the clearance and at the issue is checked again from what the database itself knows: the area's facts,
-- the work, every answer, the company's own layer. Published rulesets are the app's data; what only they ask for is not known here.

-- As before, with what comes down from work above ground: the twin of the choices that lib/permit's survey marks as blocked.
CREATE OR REPLACE FUNCTION kerf_answer_forbids(item text, choice text) RETURNS boolean LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT (item, choice) IN (
    ('inside_piece', 'hollow_sealed'), ('inside_piece', 'not_cleaned'), ('inside_piece', 'tank_in_service'),
    ('coating', 'not_tested'), ('coating', 'burns'), ('far_side', 'metal_touches'), ('drop_zone', 'open'),
    ('walls', 'burnable_cover'), ('walls', 'sandwich_panel'), ('burnables', 'neither'), ('ducts', 'running'),
    ('stores', 'bulk'), ('stores', 'dust'), ('stores', 'painting'), ('sprinklers', 'valve_shut'),
    ('air', 'vapour'), ('air', 'solvent'), ('ship_space', 'not_tested'), ('cylinders', 'inside'), ('extinguisher', 'short'),
    ('burn_ban', 'in_force'), ('burn_ban', 'not_asked'), ('wind', 'not_measured'),
    ('tap_crew', 'not_approved'), ('tap_plan', 'none'), ('tap_line', 'not_as_planned'))
$$;

-- The items of the walk that an area and a work ask; the twin of lib/permit's surveyItems, and a test compares the two.
CREATE FUNCTION kerf_survey_items(facts jsonb, process text) RETURNS text[] LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT ARRAY['since_last', 'inside_piece', 'coating']
    || CASE WHEN process = 'hot_tapping' THEN ARRAY['tap_crew', 'tap_plan', 'tap_line'] ELSE '{}'::text[] END
    || ARRAY['far_side', 'openings']
    || CASE WHEN (facts ->> 'levelFt')::float > 0 THEN ARRAY['drop_zone'] ELSE '{}'::text[] END
    || ARRAY['floor', 'walls', 'burnables', 'ducts', 'stores']
    || CASE WHEN facts @> '{"sprinklers": true}' THEN ARRAY['sprinklers'] ELSE '{}'::text[] END
    || CASE WHEN facts @> '{"detection": true}' THEN ARRAY['detectors'] ELSE '{}'::text[] END
    || CASE WHEN facts @> '{"indoors": false}' THEN ARRAY['burn_ban', 'wind'] ELSE '{}'::text[] END
    || ARRAY['air']
    || CASE WHEN coalesce(facts ->> 'shipyardSpace', 'none') <> 'none' THEN ARRAY['ship_space'] ELSE '{}'::text[] END
    || ARRAY['cylinders', 'extinguisher', 'bystanders', 'view']
$$;

CREATE FUNCTION kerf_survey_whole() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  missing integer;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  SELECT count(*) INTO missing FROM areas a, unnest(kerf_survey_items(a.facts, p.process)) AS wanted
  WHERE a.id = p.area_id AND NOT EXISTS (
    SELECT 1 FROM clearance_answers c WHERE c.permit_id = p.id AND c.survey_no = p.survey_no AND c.item = wanted);
  IF missing > 0 THEN PERFORM kerf_refuse('SURVEY_UNANSWERED', jsonb_build_object('count', missing)); END IF;
  RETURN NEW;
END $$;
-- Fires after the event's own trigger, which has locked the permit.
CREATE TRIGGER survey_whole BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'cleared') EXECUTE FUNCTION kerf_survey_whole();

-- Duties that are laxer than what the company's layer, the area and the work leave no choice about. Oxygen, flammable gas and the
-- cap have a floor even where the company's layer is silent: 29 CFR 1926.1202, and the starting layer's 24 hours.
CREATE FUNCTION kerf_lax_duties(p permits, data jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  duties jsonb := data -> 'duties';
  area areas%ROWTYPE;
  own jsonb;
  enclosed boolean;
  name text;
  lax text[] := '{}';
BEGIN
  SELECT * INTO area FROM areas WHERE id = p.area_id;
  enclosed := area.facts @> '{"enclosed": true}' OR area.facts @> '{"confinedSpace": true}';
  SELECT coalesce(l.params -> 'parameters', l.params) INTO own FROM company_layers l WHERE l.from_at <= now_at ORDER BY l.from_at DESC, l.id DESC LIMIT 1;
  IF (duties ->> 'oxygenMinPct')::float < greatest(19.5, (own ->> 'oxygenMinPct')::float, CASE WHEN enclosed THEN (own ->> 'enclosedOxygenMinPct')::float END) THEN
    lax := lax || 'oxygenMinPct'::text;
  END IF;
  IF (duties ->> 'oxygenMaxPct')::float > least(23.5, (own ->> 'oxygenMaxPct')::float, CASE WHEN enclosed THEN (own ->> 'enclosedOxygenMaxPct')::float END) THEN
    lax := lax || 'oxygenMaxPct'::text;
  END IF;
  IF (duties ->> 'lelMaxPct')::float > least(10, (own ->> 'lelMaxPct')::float, CASE WHEN enclosed THEN (own ->> 'enclosedLelMaxPct')::float END) THEN
    lax := lax || 'lelMaxPct'::text;
  END IF;
  IF (duties ->> 'capHours')::float > coalesce((own ->> 'capHours')::float, 24) THEN lax := lax || 'capHours'::text; END IF;
  FOREACH name IN ARRAY ARRAY['lelStopAtPct', 'coMaxPpm', 'h2sMaxPpm', 'breakLimitMin', 'paiOnSiteWithinMin', 'windMaxMph'] LOOP
    IF jsonb_typeof(own -> name) = 'number' AND ((duties ->> name) IS NULL OR (duties ->> name)::float > (own ->> name)::float) THEN lax := lax || name; END IF;
  END LOOP;
  IF (duties ->> 'gasTestNeeded')::boolean IS NOT TRUE AND (enclosed OR coalesce((own ->> 'gasTestBeforeEveryPermit')::boolean, false)) THEN
    lax := lax || 'gasTestNeeded'::text;
  END IF;
  -- After work with an open gas flame outside designated areas the company always watches.
  IF (data ->> 'watchRequired')::boolean IS NOT TRUE AND area.area_class <> 'designated'
     AND p.process IN ('oxyfuel_cutting', 'oxyfuel_gouging', 'heating', 'brazing', 'gas_welding', 'torch_roofing') THEN
    lax := lax || 'watchRequired'::text;
  END IF;
  RETURN coalesce((SELECT jsonb_agg(jsonb_build_object('code', 'DUTY_LAX', 'params', jsonb_build_object('duty', d))) FROM unnest(lax) AS d), '[]');
END $$;

CREATE FUNCTION kerf_issue_again() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  PERFORM kerf_refuse_all(kerf_lax_duties(p, NEW.data, NEW.at));
  RETURN NEW;
END $$;
CREATE TRIGGER permit_issue_again BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'issued') EXECUTE FUNCTION kerf_issue_again();

REVOKE ALL ON FUNCTION kerf_survey_whole(), kerf_lax_duties(permits, jsonb, timestamptz), kerf_issue_again() FROM PUBLIC;
