-- Who gave a qualification, and the paper itself: what it is in one row that the chain holds by its hash, the bytes apart.
ALTER TABLE qualifications ADD COLUMN "issuer" TEXT, ADD CONSTRAINT qualifications_issuer CHECK (issuer IS NULL OR length(issuer) BETWEEN 1 AND 120);
-- Whose people they are: null is the company's own, else the subcontractor.
ALTER TABLE people ADD COLUMN "firm" TEXT, ADD CONSTRAINT people_firm CHECK (firm IS NULL OR length(firm) BETWEEN 1 AND 80);

CREATE TABLE "evidence_files" (
    "id" UUID NOT NULL,
    "qualification_id" UUID NOT NULL,
    "mime" TEXT NOT NULL,
    "byte_count" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "recorded_by" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "evidence_files_pkey" PRIMARY KEY ("id"),
    CONSTRAINT evidence_files_mime CHECK (mime IN ('image/jpeg', 'image/png', 'application/pdf')),
    CONSTRAINT evidence_files_bytes CHECK (byte_count BETWEEN 1 AND 2000000),
    CONSTRAINT evidence_files_sha256 CHECK (sha256 ~ '^[0-9a-f]{64}$')
);
ALTER TABLE "evidence_files" ADD CONSTRAINT "evidence_files_qualification_id_fkey" FOREIGN KEY ("qualification_id") REFERENCES "qualifications"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "evidence_files_qualification_id_idx" ON "evidence_files"("qualification_id");

CREATE TABLE "evidence_bytes" (
    "file_id" UUID NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "evidence_bytes_pkey" PRIMARY KEY ("file_id")
);
ALTER TABLE "evidence_bytes" ADD CONSTRAINT "evidence_bytes_file_id_fkey" FOREIGN KEY ("file_id") REFERENCES "evidence_files"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

CREATE FUNCTION kerf_evidence_bytes() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  kept evidence_files%ROWTYPE;
BEGIN
  SELECT * INTO kept FROM evidence_files WHERE id = NEW.file_id;
  IF kept.id IS NULL OR kept.byte_count <> octet_length(NEW.bytes) OR kept.sha256 <> encode(sha256(NEW.bytes), 'hex') THEN
    PERFORM kerf_refuse('EVIDENCE_DIFFERS', '{}', 'KW004');
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER evidence_bytes BEFORE INSERT ON evidence_bytes FOR EACH ROW EXECUTE FUNCTION kerf_evidence_bytes();

CREATE FUNCTION kerf_evidence_whole() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM evidence_bytes b WHERE b.file_id = NEW.id) THEN PERFORM kerf_refuse('EVIDENCE_MISSING', '{}', 'KW004'); END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER evidence_whole AFTER INSERT ON evidence_files DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_evidence_whole();
CREATE TRIGGER stamp BEFORE INSERT ON evidence_files FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');

-- Who works where on which day. Taken back once, never deleted.
CREATE TABLE "assignments" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "assigned_by" UUID NOT NULL,
    "assigned_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "cancelled_at" TIMESTAMPTZ(3),

    CONSTRAINT "assignments_pkey" PRIMARY KEY ("id")
);
ALTER TABLE "assignments" ADD CONSTRAINT "assignments_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "assignments" ADD CONSTRAINT "assignments_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "people"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX assignments_once ON assignments (person_id, day, site_id) WHERE cancelled_at IS NULL;
CREATE INDEX "assignments_site_id_day_idx" ON "assignments"("site_id", "day");
CREATE TRIGGER stamp BEFORE INSERT ON assignments FOR EACH ROW EXECUTE FUNCTION kerf_stamp('assigned_at');
CREATE TRIGGER ends_once BEFORE UPDATE ON assignments FOR EACH ROW EXECUTE FUNCTION kerf_ends_once('cancelled_at');

-- Who is on a site without a sign-in: came, was told, left.
CREATE TABLE "visitors" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "firm" TEXT,
    "host_id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "told_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "recorded_by" UUID NOT NULL,
    "left_at" TIMESTAMPTZ(3),

    CONSTRAINT "visitors_pkey" PRIMARY KEY ("id"),
    CONSTRAINT visitors_words CHECK (length(name) BETWEEN 1 AND 80 AND (firm IS NULL OR length(firm) BETWEEN 1 AND 80) AND length(purpose) BETWEEN 1 AND 200)
);
ALTER TABLE "visitors" ADD CONSTRAINT "visitors_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "visitors" ADD CONSTRAINT "visitors_host_id_fkey" FOREIGN KEY ("host_id") REFERENCES "people"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "visitors_site_id_told_at_idx" ON "visitors"("site_id", "told_at");
CREATE TRIGGER stamp BEFORE INSERT ON visitors FOR EACH ROW EXECUTE FUNCTION kerf_stamp('told_at');
CREATE TRIGGER ends_once BEFORE UPDATE ON visitors FOR EACH ROW EXECUTE FUNCTION kerf_ends_once('left_at');

DO $$
DECLARE
  fact text;
  has_runtime boolean := EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime');
BEGIN
  FOREACH fact IN ARRAY ARRAY['evidence_files', 'evidence_bytes', 'assignments', 'visitors'] LOOP
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF has_runtime THEN EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact); END IF;
  END LOOP;
  FOREACH fact IN ARRAY ARRAY['evidence_files', 'evidence_bytes'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
  END LOOP;
  IF has_runtime THEN
    GRANT UPDATE (cancelled_at) ON assignments TO kerfwatch_runtime;
    GRANT UPDATE (left_at) ON visitors TO kerfwatch_runtime;
    GRANT UPDATE (firm) ON people TO kerfwatch_runtime;
  END IF;
END $$;
REVOKE ALL ON FUNCTION kerf_evidence_bytes(), kerf_evidence_whole() FROM PUBLIC;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON evidence_files DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('company', 'qualification_id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON assignments DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'person_id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF cancelled_at ON assignments DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'person_id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON visitors DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF left_at ON visitors DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
