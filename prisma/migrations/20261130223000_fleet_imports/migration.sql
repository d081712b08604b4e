-- A starting fleet from a spreadsheet: what the file said, row by row, and how far it was taken in. Both
-- are facts; a batch and the cylinders it made are one transaction, so that whoever goes on after a crash
-- goes on where the last whole batch ended.
CREATE TABLE "fleet_imports" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "file_name" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "rows" INTEGER NOT NULL,
    "faulty" INTEGER NOT NULL,
    "headings" JSONB NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "fleet_imports_pkey" PRIMARY KEY ("id"),
    CONSTRAINT fleet_imports_counts CHECK (rows > 0 AND faulty BETWEEN 0 AND rows)
);
CREATE INDEX "fleet_imports_site_id_at_idx" ON "fleet_imports"("site_id", "at");
CREATE TABLE "fleet_import_rows" (
    "import_id" UUID NOT NULL,
    "line" INTEGER NOT NULL,
    "data" JSONB,
    "faults" JSONB NOT NULL,

    CONSTRAINT "fleet_import_rows_pkey" PRIMARY KEY ("import_id", "line"),
    CONSTRAINT fleet_import_rows_either CHECK ((data IS NULL) = (jsonb_array_length(faults) > 0))
);
CREATE INDEX fleet_import_rows_faulty ON fleet_import_rows (import_id, line) WHERE data IS NULL;
CREATE TABLE "fleet_import_batches" (
    "id" UUID NOT NULL,
    "import_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "from_line" INTEGER NOT NULL,
    "to_line" INTEGER NOT NULL,
    "taken" INTEGER NOT NULL,
    "known" INTEGER NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "fleet_import_batches_pkey" PRIMARY KEY ("id"),
    CONSTRAINT fleet_import_batches_lines CHECK (from_line <= to_line AND taken >= 0 AND known >= 0),
    -- No line is taken in twice, whoever goes on at the same time.
    CONSTRAINT fleet_import_batches_once EXCLUDE USING gist (import_id WITH =, int4range(from_line, to_line, '[]') WITH &&)
);
ALTER TABLE "fleet_import_rows" ADD CONSTRAINT "fleet_import_rows_import_id_fkey" FOREIGN KEY ("import_id") REFERENCES "fleet_imports"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "fleet_import_batches" ADD CONSTRAINT "fleet_import_batches_import_id_fkey" FOREIGN KEY ("import_id") REFERENCES "fleet_imports"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['fleet_imports', 'fleet_import_rows', 'fleet_import_batches'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
      EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact);
    END IF;
  END LOOP;
END $$;
CREATE TRIGGER stamp BEFORE INSERT ON fleet_imports FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE TRIGGER stamp BEFORE INSERT ON fleet_import_batches FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON fleet_imports DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON fleet_import_batches DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'import_id');
