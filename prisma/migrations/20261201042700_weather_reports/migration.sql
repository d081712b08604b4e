-- What the weather and the authorities do while people cut in the open: a burn ban, its end, a wind that was measured. It is of
-- the whole site, and what it forbids it holds at once.
CREATE TABLE "weather_reports" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "wind_mph" DOUBLE PRECISION,
    "words" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "weather_reports_pkey" PRIMARY KEY ("id"),
    CONSTRAINT weather_reports_kind CHECK (kind IN ('burn_ban', 'ban_lifted', 'wind')),
    CONSTRAINT weather_reports_wind CHECK ((kind = 'wind') = (wind_mph IS NOT NULL) AND (wind_mph IS NULL OR wind_mph BETWEEN 0 AND 700)),
    CONSTRAINT weather_reports_words CHECK (length(trim(words)) BETWEEN 1 AND 200)
);
ALTER TABLE "weather_reports" ADD CONSTRAINT "weather_reports_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "weather_reports_site_id_kind_at_idx" ON "weather_reports"("site_id", "kind", "at");

CREATE FUNCTION kerf_weather_report() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.at := kerf_now();
  RETURN NEW;
END $$;
CREATE TRIGGER weather_report BEFORE INSERT ON weather_reports FOR EACH ROW EXECUTE FUNCTION kerf_weather_report();
CREATE TRIGGER append_only BEFORE UPDATE ON weather_reports FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON weather_reports FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON weather_reports FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON weather_reports DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');

-- The wind that counts for a permit: the last that was measured at the work or reported of the site; none where the work is
-- sheltered.
CREATE FUNCTION kerf_wind_of(p permits) RETURNS double precision LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  WITH answer AS (
    SELECT a.answer ->> 'choice' AS choice, (a.answer ->> 'windMph')::double precision AS mph, a.at
    FROM clearance_answers a WHERE a.permit_id = p.id AND a.item = 'wind' ORDER BY a.at DESC, a.id DESC LIMIT 1),
  report AS (
    SELECT w.wind_mph AS mph, w.at FROM weather_reports w WHERE w.site_id = p.site_id AND w.kind = 'wind' ORDER BY w.at DESC, w.id DESC LIMIT 1)
  SELECT CASE WHEN answer.choice = 'sheltered' THEN NULL
              WHEN answer.at IS NULL OR report.at > answer.at THEN report.mph ELSE answer.mph END
  FROM (SELECT 1) AS one LEFT JOIN answer ON true LEFT JOIN report ON true
$$;

-- Why the weather forbids this permit's work, with these duties; empty indoors.
CREATE FUNCTION kerf_weather_reasons(p permits, duties jsonb) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  last_ban text;
BEGIN
  IF NOT EXISTS (SELECT 1 FROM areas a WHERE a.id = p.area_id AND a.facts @> '{"indoors": false}') THEN RETURN reasons; END IF;
  SELECT w.kind INTO last_ban FROM weather_reports w WHERE w.site_id = p.site_id AND w.kind IN ('burn_ban', 'ban_lifted') ORDER BY w.at DESC, w.id DESC LIMIT 1;
  IF last_ban = 'burn_ban' THEN reasons := kerf_reason('BURN_BAN'); END IF;
  IF kerf_wind_of(p) > (duties ->> 'windMaxMph')::double precision THEN
    reasons := reasons || kerf_reason('WIND_OVER', jsonb_build_object('mph', kerf_wind_of(p), 'maxMph', duties -> 'windMaxMph'));
  END IF;
  RETURN reasons;
END $$;

-- A ban or a wind that is too strong holds every permit of the site that it concerns, in the same breath.
CREATE FUNCTION kerf_weather_holds() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
  SELECT gen_random_uuid(), p.site_id, p.id, 'held', NEW.person_id, NEW.role_then, NEW.id, jsonb_build_object('reason', NEW.kind)
  FROM permits p WHERE p.site_id = NEW.site_id AND p.state = 'open' AND jsonb_array_length(kerf_weather_reasons(p, p.frozen -> 'duties')) > 0 ORDER BY p.id;
  RETURN NULL;
END $$;
CREATE TRIGGER weather_holds AFTER INSERT ON weather_reports FOR EACH ROW WHEN (NEW.kind <> 'ban_lifted') EXECUTE FUNCTION kerf_weather_holds();

-- Nothing is lit under a ban or in such a wind. Fires after the event's own trigger, which has locked the permit.
CREATE FUNCTION kerf_weather_serves() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  PERFORM kerf_refuse_all(kerf_weather_reasons(p, CASE NEW.kind WHEN 'issued' THEN NEW.data -> 'duties' ELSE p.frozen -> 'duties' END));
  RETURN NEW;
END $$;
CREATE TRIGGER weather_serves BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind IN ('issued', 'resumed', 'reopened')) EXECUTE FUNCTION kerf_weather_serves();

REVOKE ALL ON weather_reports FROM PUBLIC;
REVOKE ALL ON FUNCTION kerf_weather_report(), kerf_wind_of(permits), kerf_weather_reasons(permits, jsonb), kerf_weather_holds(), kerf_weather_serves() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT SELECT, INSERT ON weather_reports TO kerfwatch_runtime; END IF;
END $$;
