-- The figures of every published ruleset, of the air that holds everywhere and of the layer a company starts with, so that the
-- database itself refuses to issue on duties that are laxer than the site's own layers. The twin of lib/rules/layers.ts, and a
-- test compares the two: a new edition is a row of a new migration. Nobody but a migration writes here.
CREATE TABLE published_layers (
    "layer_id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "effective_from" DATE NOT NULL,
    "effective_to" DATE,
    "params" JSONB NOT NULL,

    CONSTRAINT "published_layers_pkey" PRIMARY KEY ("layer_id", "version"),
    CONSTRAINT published_layers_days CHECK (effective_to IS NULL OR effective_to >= effective_from),
    CONSTRAINT published_layers_asks CHECK (jsonb_typeof(params) = 'object')
);
INSERT INTO published_layers (layer_id, version, effective_from, effective_to, params) VALUES
  ('always', 1, '2019-01-01', NULL, '{"oxygenMinPct": 19.5, "oxygenMaxPct": 23.5, "lelMaxPct": 10}'),
  ('company', 1, '2019-01-01', NULL, '{"postWatchMin": 60, "capHours": 24, "roundIntervalMin": 10, "breakLimitMin": 30, "gasTestValidMin": 60, "gasTestBeforeEveryPermit": true, "gasTestContinuousWhenEnclosed": true, "oxygenMinPct": 19.5, "oxygenMaxPct": 23.5, "lelMaxPct": 10, "lelStopAtPct": 10, "enclosedOxygenMinPct": 19.5, "enclosedOxygenMaxPct": 22, "enclosedLelMaxPct": 0, "coMaxPpm": 50, "h2sMaxPpm": 10, "paiOnSiteWithinMin": 30, "windMaxMph": 15}'),
  ('us-osha-1910', 1, '2019-01-01', NULL, '{"postWatchMin": 30}'),
  ('us-osha-1926', 1, '2019-01-01', NULL, '{"statementRequired": true, "gearCheckEachShift": true}'),
  ('us-osha-1915', 1, '2019-01-01', NULL, '{"postWatchMin": 30, "surveyMayEndWatch": true, "unattendedEnclosedMaxMin": 15, "unattendedConfinedMaxMin": 0, "oxygenMinPct": 19.5, "oxygenStopAtPct": 22, "lelStopAtPct": 10}'),
  ('us-ifc-2018', 1, '2019-01-01', NULL, '{"postWatchMin": 30, "reinspectEveryHours": 24, "gasOffAfterIdleMin": 60, "keepRecordsHours": 48}'),
  ('us-nfpa51b-2014', 1, '2019-01-01', NULL, '{"postWatchMin": 30, "finalCheckMin": 30, "capHours": 24, "reinspectEachShift": true}'),
  ('us-nfpa51b-2019', 1, '2019-01-01', NULL, '{"postWatchMin": 60, "finalCheckMin": 30, "monitoringMaxMin": 180, "capHours": 24, "reinspectEachShift": true}'),
  ('us-nfpa241-2022', 1, '2022-01-01', NULL, '{"postWatchMin": 60, "torchRoofPostWatchMin": 120, "finalCheckMin": 30, "monitoringMaxMin": 180, "capHours": 24, "reinspectEachShift": true}'),
  ('uk-jcop10', 1, '2023-01-01', NULL, '{"watchEveryPermit": true, "postWatchMin": 60, "monitoringMin": 60, "monitoringCheckEveryMin": 20}'),
  ('ca-nfc', 1, '2019-01-01', NULL, '{"watchEveryPermit": true, "postWatchMin": 60, "finalLookAtMin": 240}'),
  ('au-as1674-1', 1, '2019-01-01', NULL, '{"postWatchMin": 30}');

-- The parameters of every layer that holds at a site at an instant: of several editions the one that began last, by the site's own
-- calendar; the company's numbers over those it starts with; the air of confined spaces.
CREATE FUNCTION kerf_site_layers(site uuid, instant timestamptz) RETURNS SETOF jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  WITH editions AS (
    SELECT layer_id, effective_from, effective_to, params FROM published_layers
    UNION ALL SELECT ruleset_id, effective_from, effective_to, params FROM local_rulesets WHERE added_at <= instant),
  own AS (SELECT coalesce(l.params -> 'parameters', l.params) AS params FROM company_layers l WHERE l.from_at <= instant ORDER BY l.from_at DESC, l.id DESC LIMIT 1)
  SELECT (SELECT e.params FROM editions e WHERE e.layer_id = r.ruleset_id
            AND (instant AT TIME ZONE s.zone)::date BETWEEN e.effective_from AND coalesce(e.effective_to, 'infinity')
          ORDER BY e.effective_from DESC LIMIT 1)
  FROM site_rulesets r JOIN sites s ON s.id = r.site_id
  WHERE r.site_id = site AND r.from_at <= instant AND (r.to_at IS NULL OR r.to_at > instant)
  UNION ALL SELECT params FROM published_layers WHERE layer_id = 'always'
  UNION ALL SELECT p.params || coalesce((SELECT params FROM own), '{}') FROM published_layers p WHERE p.layer_id = 'company'
$$;

-- Which of the duties ask for less than the strictest of these layers; the twin of lib/permit/duties.ts for what no answer of the
-- walk changes. What a layer asks only under its own conditions (a statement, a final check without a watch, the longer
-- watch after a torch-applied roof) is not held here.
CREATE FUNCTION kerf_laxer_than(layers jsonb[], duties jsonb, watched boolean, enclosed boolean, designated boolean) RETURNS text[] LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
  WITH asked AS (
    SELECT e.key, max(e.value::text::float) FILTER (WHERE jsonb_typeof(e.value) = 'number') AS most,
           min(e.value::text::float) FILTER (WHERE jsonb_typeof(e.value) = 'number') AS least, bool_or(e.value = 'true') AS yes
    FROM unnest(layers) AS l(params), jsonb_each(l.params) AS e GROUP BY e.key),
  -- A layer that lets a survey end its own watch leaves the minutes of those that don't.
  short AS (
    SELECT bool_or((params ->> 'surveyMayEndWatch')::boolean) AS may,
           max((params ->> 'postWatchMin')::float) FILTER (WHERE (params ->> 'surveyMayEndWatch')::boolean IS NOT TRUE) AS rest
    FROM unnest(layers) AS l(params)),
  most AS (SELECT jsonb_object_agg(key, most) AS of FROM asked),
  least AS (SELECT jsonb_object_agg(key, least) AS of FROM asked),
  yes AS (SELECT jsonb_object_agg(key, yes) AS of FROM asked),
  figures AS (
    SELECT f.* FROM most, least, LATERAL (VALUES
      ('watchMin', 'more', CASE WHEN watched THEN (most.of ->> 'postWatchMin')::float END),
      ('monitoringMin', 'more', (most.of ->> 'monitoringMin')::float),
      ('finalLookMin', 'more', greatest((most.of ->> 'finalLookAtMin')::float,
        coalesce((most.of ->> 'monitoringMin')::float, 0) + CASE WHEN watched THEN (most.of ->> 'postWatchMin')::float ELSE 0 END)),
      ('monitoringCheckEveryMin', 'less', (least.of ->> 'monitoringCheckEveryMin')::float),
      ('roundIntervalMin', 'less', (least.of ->> 'roundIntervalMin')::float),
      ('breakLimitMin', 'less', (least.of ->> 'breakLimitMin')::float),
      ('capHours', 'less', (least.of ->> 'capHours')::float),
      ('paiOnSiteWithinMin', 'less', (least.of ->> 'paiOnSiteWithinMin')::float),
      ('reinspectEveryHours', 'less', (least.of ->> 'reinspectEveryHours')::float),
      ('gasOffAfterIdleMin', 'less', (least.of ->> 'gasOffAfterIdleMin')::float),
      ('gasTestValidMin', 'less', (least.of ->> 'gasTestValidMin')::float),
      ('oxygenMinPct', 'more', greatest((most.of ->> 'oxygenMinPct')::float, CASE WHEN enclosed THEN (most.of ->> 'enclosedOxygenMinPct')::float END)),
      ('oxygenMaxPct', 'less', least((least.of ->> 'oxygenMaxPct')::float, CASE WHEN enclosed THEN (least.of ->> 'enclosedOxygenMaxPct')::float END)),
      ('lelMaxPct', 'less', least((least.of ->> 'lelMaxPct')::float, CASE WHEN enclosed THEN (least.of ->> 'enclosedLelMaxPct')::float END)),
      ('oxygenStopAtPct', 'less', (least.of ->> 'oxygenStopAtPct')::float),
      ('lelStopAtPct', 'less', (least.of ->> 'lelStopAtPct')::float),
      ('coMaxPpm', 'less', (least.of ->> 'coMaxPpm')::float),
      ('h2sMaxPpm', 'less', (least.of ->> 'h2sMaxPpm')::float),
      ('windMaxMph', 'less', (least.of ->> 'windMaxMph')::float)) AS f(duty, way, figure)),
  flags AS (
    SELECT f.* FROM yes, LATERAL (VALUES
      ('reinspectEachShift', (yes.of ->> 'reinspectEachShift')::boolean),
      ('gearCheckEachShift', (yes.of ->> 'gearCheckEachShift')::boolean),
      ('gasTestNeeded', enclosed OR (yes.of ->> 'gasTestBeforeEveryPermit')::boolean),
      ('gasTestContinuous', enclosed AND (yes.of ->> 'gasTestContinuousWhenEnclosed')::boolean),
      ('watchRequired', NOT watched AND NOT designated AND (yes.of ->> 'watchEveryPermit')::boolean)) AS f(duty, wanted))
  SELECT coalesce(array_agg(duty), '{}') FROM (
    SELECT duty FROM figures WHERE figure IS NOT NULL
      AND ((duties ->> duty) IS NULL OR CASE way WHEN 'more' THEN (duties ->> duty)::float < figure ELSE (duties ->> duty)::float > figure END)
    UNION ALL SELECT duty FROM flags WHERE wanted AND (duty = 'watchRequired' OR (duties ->> duty)::boolean IS NOT TRUE)
    UNION ALL SELECT 'watchMinAfterSurvey' FROM short
    WHERE jsonb_typeof(duties -> 'watchMinAfterSurvey') = 'number' AND (may IS NOT TRUE OR (duties ->> 'watchMinAfterSurvey')::float < rest)
    UNION ALL SELECT 'finalLookMinAfterSurvey' FROM most
    WHERE jsonb_typeof(duties -> 'finalLookMinAfterSurvey') = 'number' AND (duties ->> 'finalLookMinAfterSurvey')::float
      < greatest((duties ->> 'watchMinAfterSurvey')::float + (duties ->> 'monitoringMin')::float, (most.of ->> 'finalLookAtMin')::float)) AS l
$$;

CREATE OR REPLACE FUNCTION kerf_lax_duties(p permits, data jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  area areas%ROWTYPE;
  watched boolean := coalesce((data ->> 'watchRequired')::boolean, false);
  lax text[];
BEGIN
  SELECT * INTO area FROM areas WHERE id = p.area_id;
  lax := kerf_laxer_than(ARRAY(SELECT kerf_site_layers(p.site_id, now_at)), data -> 'duties', watched,
    area.facts @> '{"enclosed": true}' OR area.facts @> '{"confinedSpace": true}', area.area_class = 'designated');
  -- After work with an open gas flame outside designated areas the company always watches.
  IF NOT watched AND area.area_class <> 'designated' AND NOT lax @> '{watchRequired}'
     AND p.process IN ('oxyfuel_cutting', 'oxyfuel_gouging', 'heating', 'brazing', 'gas_welding', 'torch_roofing') THEN
    lax := lax || 'watchRequired'::text;
  END IF;
  RETURN coalesce((SELECT jsonb_agg(jsonb_build_object('code', 'DUTY_LAX', 'params', jsonb_build_object('duty', d))) FROM unnest(lax) AS d), '[]');
END $$;

-- As before; that the shorter watch keeps to the company's minutes is part of the above.
CREATE OR REPLACE FUNCTION kerf_survey_shortens() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  IF coalesce((p.frozen #>> '{duties,watchMinAfterSurvey}')::numeric, p.watch_minutes) >= p.watch_minutes THEN PERFORM kerf_refuse('SURVEY_SHORTENS_NOTHING'); END IF;
  PERFORM kerf_refuse_all(kerf_posts_not_cold(p));
  RETURN NEW;
END $$;
DROP TRIGGER survey_shortens ON permit_events;
CREATE TRIGGER survey_shortens BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'surveyed') EXECUTE FUNCTION kerf_survey_shortens();

REVOKE ALL ON FUNCTION kerf_site_layers(uuid, timestamptz), kerf_laxer_than(jsonb[], jsonb, boolean, boolean, boolean) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT ON published_layers TO kerfwatch_runtime;
  END IF;
END $$;
