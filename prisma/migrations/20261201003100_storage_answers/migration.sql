-- What somebody measured and saw at a store, with the area's facts as they were then; and what somebody
-- confirmed when a limit warned. Facts: later answers take over, none is altered.
CREATE TABLE "storage_answers" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "area_id" UUID NOT NULL,
    "facts" JSONB NOT NULL DEFAULT '{}',
    "answers" JSONB NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "storage_answers_pkey" PRIMARY KEY ("id"),
    CONSTRAINT storage_answers_object CHECK (jsonb_typeof(answers) = 'object')
);
ALTER TABLE "storage_answers" ADD CONSTRAINT "storage_answers_area_id_fkey" FOREIGN KEY ("area_id") REFERENCES "areas"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "storage_answers_area_id_at_idx" ON "storage_answers"("area_id", "at");

CREATE TABLE "storage_confirmations" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "area_id" UUID NOT NULL,
    "cylinder_ids" UUID[],
    "findings" JSONB NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "storage_confirmations_pkey" PRIMARY KEY ("id"),
    CONSTRAINT storage_confirmations_say CHECK (jsonb_typeof(findings) = 'array' AND jsonb_array_length(findings) > 0)
);
ALTER TABLE "storage_confirmations" ADD CONSTRAINT "storage_confirmations_area_id_fkey" FOREIGN KEY ("area_id") REFERENCES "areas"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "storage_confirmations_area_id_at_idx" ON "storage_confirmations"("area_id", "at");

-- The area says which site it is and how it was when the answers were given.
CREATE FUNCTION kerf_storage_answer() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.at := kerf_now();
  SELECT a.site_id INTO NEW.site_id FROM areas a WHERE a.id = NEW.area_id;
  IF TG_TABLE_NAME = 'storage_answers' THEN
    SELECT coalesce(a.facts, '{}') INTO NEW.facts FROM areas a WHERE a.id = NEW.area_id;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER storage_answer BEFORE INSERT ON storage_answers FOR EACH ROW EXECUTE FUNCTION kerf_storage_answer();
CREATE TRIGGER storage_answer BEFORE INSERT ON storage_confirmations FOR EACH ROW EXECUTE FUNCTION kerf_storage_answer();
REVOKE ALL ON FUNCTION kerf_storage_answer() FROM PUBLIC;

DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['storage_answers', 'storage_confirmations'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
      EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact);
    END IF;
    EXECUTE format('CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON %I DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit(''site_id'', ''area_id'')', fact);
  END LOOP;
END $$;
