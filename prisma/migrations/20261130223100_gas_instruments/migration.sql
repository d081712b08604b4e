-- The instruments that test the air, and each bump test and calibration of one. A gas test that names an instrument takes its
-- days from these records, never from a form.
CREATE TABLE "gas_instruments" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "model" TEXT NOT NULL,
    "added_by" UUID NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "gas_instruments_pkey" PRIMARY KEY ("id"),
    CONSTRAINT gas_instruments_name CHECK (length(trim(name)) BETWEEN 1 AND 80 AND length(trim(model)) BETWEEN 1 AND 80)
);
ALTER TABLE "gas_instruments" ADD CONSTRAINT "gas_instruments_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX "gas_instruments_site_id_name_key" ON "gas_instruments"("site_id", "name");

CREATE TABLE "instrument_checks" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "instrument_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "on_day" DATE NOT NULL,
    "valid_until" DATE,
    "passed" BOOLEAN NOT NULL,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "instrument_checks_pkey" PRIMARY KEY ("id"),
    CONSTRAINT instrument_checks_kind CHECK (kind IN ('bump', 'calibration')),
    CONSTRAINT instrument_checks_until CHECK ((kind = 'calibration') = (valid_until IS NOT NULL) AND valid_until >= on_day),
    CONSTRAINT instrument_checks_note CHECK (note IS NULL OR length(note) BETWEEN 1 AND 300)
);
ALTER TABLE "instrument_checks" ADD CONSTRAINT "instrument_checks_instrument_id_fkey" FOREIGN KEY ("instrument_id") REFERENCES "gas_instruments"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "instrument_checks_instrument_id_kind_at_idx" ON "instrument_checks"("instrument_id", "kind", "at");

ALTER TABLE "gas_tests" ADD COLUMN "instrument_id" UUID;
ALTER TABLE "gas_tests" ADD CONSTRAINT "gas_tests_instrument_id_fkey" FOREIGN KEY ("instrument_id") REFERENCES "gas_instruments"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

CREATE FUNCTION kerf_instrument_check() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.at := kerf_now();
  SELECT g.site_id INTO STRICT NEW.site_id FROM gas_instruments g WHERE g.id = NEW.instrument_id;
  IF NEW.on_day > kerf_site_day(NEW.site_id, NEW.at) THEN PERFORM kerf_refuse('CHECK_IN_FUTURE'); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER instrument_check BEFORE INSERT ON instrument_checks FOR EACH ROW EXECUTE FUNCTION kerf_instrument_check();

-- The last check of each kind decides; one that failed says that the instrument is out.
CREATE FUNCTION kerf_chosen_instrument() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  chosen gas_instruments%ROWTYPE;
  site uuid;
  bump instrument_checks%ROWTYPE;
  calibration instrument_checks%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  SELECT p.site_id INTO site FROM permits p WHERE p.id = NEW.permit_id;
  SELECT * INTO chosen FROM gas_instruments g WHERE g.id = NEW.instrument_id AND g.site_id = site;
  IF chosen.id IS NULL THEN PERFORM kerf_refuse('INSTRUMENT_UNKNOWN'); END IF;
  SELECT * INTO bump FROM instrument_checks c WHERE c.instrument_id = chosen.id AND c.kind = 'bump' ORDER BY c.at DESC, c.id DESC LIMIT 1;
  SELECT * INTO calibration FROM instrument_checks c WHERE c.instrument_id = chosen.id AND c.kind = 'calibration' ORDER BY c.at DESC, c.id DESC LIMIT 1;
  IF bump.id IS NULL OR NOT bump.passed THEN reasons := reasons || kerf_reason('INSTRUMENT_NOT_BUMPED', jsonb_build_object('instrument', chosen.name)); END IF;
  IF calibration.id IS NULL OR NOT calibration.passed THEN reasons := reasons || kerf_reason('INSTRUMENT_NOT_CALIBRATED', jsonb_build_object('instrument', chosen.name)); END IF;
  PERFORM kerf_refuse_all(reasons);
  NEW.instrument := chosen.name; NEW.bump_tested_on := bump.on_day; NEW.calibrated_until := calibration.valid_until;
  RETURN NEW;
END $$;
CREATE TRIGGER chosen_instrument BEFORE INSERT ON gas_tests FOR EACH ROW WHEN (NEW.instrument_id IS NOT NULL) EXECUTE FUNCTION kerf_chosen_instrument();

CREATE TRIGGER stamp BEFORE INSERT ON gas_instruments FOR EACH ROW EXECUTE FUNCTION kerf_stamp('added_at');
DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['gas_instruments', 'instrument_checks'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
      EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact);
    END IF;
  END LOOP;
END $$;
REVOKE ALL ON FUNCTION kerf_instrument_check(), kerf_chosen_instrument() FROM PUBLIC;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON gas_instruments DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON instrument_checks DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'instrument_id');
