-- Whose an outfit is and who has it; when a part went on and came off.
ALTER TABLE outfits
  ADD COLUMN "rented_from" TEXT,
  ADD COLUMN "holder_id" UUID,
  ADD CONSTRAINT outfits_rented_from CHECK (rented_from IS NULL OR length(rented_from) BETWEEN 1 AND 80);
ALTER TABLE "outfits" ADD CONSTRAINT "outfits_holder_id_fkey" FOREIGN KEY ("holder_id") REFERENCES "people"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE outfit_parts
  ADD COLUMN "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
  ADD COLUMN "removed_at" TIMESTAMPTZ(3);
CREATE TRIGGER stamp BEFORE INSERT ON outfit_parts FOR EACH ROW EXECUTE FUNCTION kerf_stamp('added_at');
CREATE CONSTRAINT TRIGGER audit_holder AFTER UPDATE OF rented_from, holder_id ON outfits DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_removed AFTER UPDATE OF removed_at ON outfit_parts DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('company', 'outfit_id');

ALTER TABLE outfit_events DROP CONSTRAINT outfit_events_kind;
ALTER TABLE outfit_events ADD CONSTRAINT outfit_events_kind CHECK (kind IN ('inspected', 'leak_tested', 'creep_tested', 'arrestor_tested', 'soap_checked', 'flashback', 'out_of_service', 'back_in_service'));

-- What a check found. Older entries say no more than that it was done: that is a pass. A hold test whose gauge moved
-- by what a temperature may explain is neither: it is made again.
CREATE FUNCTION kerf_check_verdict(e outfit_events) RETURNS text LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT CASE WHEN e.kind NOT IN ('inspected', 'leak_tested', 'creep_tested', 'arrestor_tested', 'soap_checked') THEN NULL
              WHEN coalesce(e.data ->> 'verdict', 'passed') IN ('passed', 'noFallSeen', 'noRiseSeen') THEN 'passed'
              WHEN e.data ->> 'verdict' IN ('failed', 'outOfService') THEN 'failed' ELSE 'open' END
$$;

-- Why an outfit may not go back: what was not looked at since it went out, and each check whose last word was no.
CREATE FUNCTION kerf_outfit_back_reasons(o outfits) RETURNS jsonb LANGUAGE plpgsql STABLE SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  out_since timestamptz;
  back_since timestamptz;
BEGIN
  SELECT coalesce(max(e.at), '-infinity') INTO back_since FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind = 'back_in_service';
  SELECT max(e.at) INTO out_since FROM outfit_events e
  WHERE e.outfit_id = o.id AND (e.kind IN ('out_of_service', 'flashback') OR kerf_check_verdict(e) = 'failed') AND e.at >= back_since;
  IF o.state = 'in_service' THEN reasons := reasons || kerf_reason('OUTFIT_IN_SERVICE', jsonb_build_object('number', o.number)); END IF;
  IF NOT EXISTS (SELECT 1 FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind = 'inspected' AND kerf_check_verdict(e) = 'passed' AND e.at >= out_since) THEN
    reasons := reasons || kerf_reason('INSPECTION_MISSING');
  END IF;
  IF NOT EXISTS (SELECT 1 FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind = 'leak_tested' AND kerf_check_verdict(e) = 'passed' AND e.at >= out_since) THEN
    reasons := reasons || kerf_reason('LEAK_TEST_MISSING');
  END IF;
  IF EXISTS (SELECT 1 FROM outfit_events f WHERE f.outfit_id = o.id AND f.kind = 'flashback' AND f.at >= back_since AND NOT EXISTS (
       SELECT 1 FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind = 'arrestor_tested' AND kerf_check_verdict(e) = 'passed' AND e.at >= f.at)) THEN
    reasons := reasons || kerf_reason('ARRESTOR_TEST_MISSING');
  END IF;
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'CHECK_FAILED', 'params', jsonb_build_object('check', last.kind, 'side', last.side))), '[]') INTO reasons
  FROM (SELECT DISTINCT ON (e.kind, coalesce(e.data ->> 'side', '')) e.kind, coalesce(e.data ->> 'side', '') AS side, kerf_check_verdict(e) AS verdict
        FROM outfit_events e WHERE e.outfit_id = o.id AND e.at >= back_since AND kerf_check_verdict(e) IN ('passed', 'failed')
        ORDER BY e.kind, coalesce(e.data ->> 'side', ''), e.at DESC, e.id DESC) AS last
  WHERE last.verdict = 'failed';
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'WRONG_CYLINDER_ON', 'params', jsonb_build_object('serial', c.serial))), '[]') INTO reasons
  FROM cylinders c WHERE c.outfit_id = o.id AND kerf_hung_wrong(c.id, c.last_seq + 1);
  RETURN reasons;
END $$;

-- A check that failed takes the outfit out at once; back again only when all was looked at anew.
CREATE OR REPLACE FUNCTION kerf_outfit_event() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  o outfits%ROWTYPE;
  fell float;
BEGIN
  SELECT * INTO o FROM outfits WHERE id = NEW.outfit_id FOR NO KEY UPDATE;
  IF o.id IS NULL THEN PERFORM kerf_refuse('OUTFIT_OTHER_SITE'); END IF;
  NEW.at := kerf_now(); NEW.site_id := o.site_id;
  -- The gauges as they were read, where no temperature is there to explain them: the verdict is not whoever sends it's to choose.
  IF NEW.kind IN ('leak_tested', 'creep_tested') AND NEW.data ? 'startKpa' AND NOT NEW.data ? 'endTemperatureK' THEN
    fell := (NEW.data ->> 'startKpa')::float - (NEW.data ->> 'endKpa')::float;
    IF NEW.kind = 'creep_tested' THEN fell := -fell; END IF;
    IF fell >= (NEW.data ->> 'resolutionKpa')::float * (1 - 1e-9) AND kerf_check_verdict(NEW) <> 'failed' THEN PERFORM kerf_refuse('TEST_DIFFERS', '{}', 'KW004'); END IF;
  END IF;
  IF NEW.kind IN ('out_of_service', 'flashback') OR kerf_check_verdict(NEW) = 'failed' THEN
    UPDATE outfits SET state = 'out_of_service', state_reason = coalesce(NEW.reason, NEW.kind) WHERE id = o.id;
  ELSIF NEW.kind = 'back_in_service' THEN
    PERFORM kerf_refuse_all(kerf_outfit_back_reasons(o));
    UPDATE outfits SET state = 'in_service', state_reason = NULL WHERE id = o.id;
  END IF;
  RETURN NEW;
END $$;

-- An outfit that is out of service is put on no permit.
CREATE FUNCTION kerf_permit_outfit_fit() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  o outfits%ROWTYPE;
BEGIN
  SELECT * INTO o FROM outfits WHERE id = NEW.outfit_id;
  IF o.state = 'out_of_service' THEN PERFORM kerf_refuse('OUTFIT_OUT_OF_SERVICE', jsonb_build_object('number', o.number, 'outfit', o.number)); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER outfit_fit BEFORE INSERT ON permits FOR EACH ROW WHEN (NEW.outfit_id IS NOT NULL) EXECUTE FUNCTION kerf_permit_outfit_fit();

CREATE TABLE "extinguishers" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "rating" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "removed_at" TIMESTAMPTZ(3),

    CONSTRAINT "extinguishers_pkey" PRIMARY KEY ("id"),
    CONSTRAINT extinguishers_kind CHECK (kind IN ('water', 'dry_chemical', 'co2', 'foam', 'class_d', 'wet_chemical')),
    CONSTRAINT extinguishers_words CHECK (length(number) BETWEEN 1 AND 20 AND length(rating) BETWEEN 1 AND 30 AND length(place) BETWEEN 1 AND 120)
);
ALTER TABLE "extinguishers" ADD CONSTRAINT "extinguishers_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX extinguishers_number ON extinguishers (site_id, number) WHERE removed_at IS NULL;
CREATE TRIGGER stamp BEFORE INSERT ON extinguishers FOR EACH ROW EXECUTE FUNCTION kerf_stamp('added_at');
CREATE TRIGGER ends_once BEFORE UPDATE ON extinguishers FOR EACH ROW EXECUTE FUNCTION kerf_ends_once('removed_at');

CREATE TABLE "extinguisher_checks" (
    "id" UUID NOT NULL,
    "extinguisher_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "is_good" BOOLEAN NOT NULL,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "extinguisher_checks_pkey" PRIMARY KEY ("id"),
    CONSTRAINT extinguisher_checks_kind CHECK (kind IN ('monthly', 'annual')),
    CONSTRAINT extinguisher_checks_note CHECK ((is_good OR length(note) > 0) AND (note IS NULL OR length(note) <= 200))
);
ALTER TABLE "extinguisher_checks" ADD CONSTRAINT "extinguisher_checks_extinguisher_id_fkey" FOREIGN KEY ("extinguisher_id") REFERENCES "extinguishers"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "extinguisher_checks_extinguisher_id_at_idx" ON "extinguisher_checks"("extinguisher_id", "at");
CREATE TRIGGER stamp BEFORE INSERT ON extinguisher_checks FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE TRIGGER append_only BEFORE UPDATE ON extinguisher_checks FOR EACH ROW EXECUTE FUNCTION kerf_append_only();

DO $$
DECLARE
  fact text;
  has_runtime boolean := EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime');
BEGIN
  FOREACH fact IN ARRAY ARRAY['extinguishers', 'extinguisher_checks'] LOOP
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF has_runtime THEN EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact); END IF;
    EXECUTE format('CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON %I DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit(%L, %L)', fact, 'site_id', CASE fact WHEN 'extinguishers' THEN 'id' ELSE 'extinguisher_id' END);
  END LOOP;
  IF has_runtime THEN
    GRANT UPDATE (removed_at) ON extinguishers TO kerfwatch_runtime;
    GRANT UPDATE (rented_from, holder_id) ON outfits TO kerfwatch_runtime;
    GRANT UPDATE (removed_at) ON outfit_parts TO kerfwatch_runtime;
  END IF;
END $$;
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF removed_at ON extinguishers DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
REVOKE ALL ON FUNCTION kerf_permit_outfit_fit(), kerf_check_verdict(outfit_events), kerf_outfit_back_reasons(outfits) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT EXECUTE ON FUNCTION kerf_check_verdict(outfit_events), kerf_outfit_back_reasons(outfits) TO kerfwatch_runtime;
  END IF;
END $$;
