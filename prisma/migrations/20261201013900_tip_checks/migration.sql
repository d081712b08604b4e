-- What somebody found when they looked at a cutting tip. Worn, damaged or opened by more than a tenth, it comes
-- off the outfit by the same entry: nobody counts on it any more.
CREATE TABLE "tip_checks" (
    "id" UUID NOT NULL,
    "part_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "finding" TEXT NOT NULL,
    "orifice_m" DOUBLE PRECISION,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "tip_checks_pkey" PRIMARY KEY ("id"),
    CONSTRAINT tip_checks_finding CHECK (finding IN ('good', 'cleaned', 'worn', 'damaged')),
    CONSTRAINT tip_checks_orifice CHECK (orifice_m > 0 AND orifice_m < 0.02),
    CONSTRAINT tip_checks_note CHECK (note IS NULL OR length(note) <= 200)
);
ALTER TABLE "tip_checks" ADD CONSTRAINT "tip_checks_part_id_fkey" FOREIGN KEY ("part_id") REFERENCES "outfit_parts"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "tip_checks_part_id_at_idx" ON "tip_checks"("part_id", "at");

CREATE FUNCTION kerf_tip_check() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  part outfit_parts%ROWTYPE;
BEGIN
  NEW.at := kerf_now();
  SELECT * INTO part FROM outfit_parts WHERE id = NEW.part_id FOR NO KEY UPDATE;
  IF part.id IS NULL OR part.kind <> 'tip' OR part.removed_at IS NOT NULL THEN PERFORM kerf_refuse('TIP_GONE'); END IF;
  SELECT o.site_id INTO NEW.site_id FROM outfits o WHERE o.id = part.outfit_id;
  IF NEW.finding IN ('worn', 'damaged') OR NEW.orifice_m > part.orifice_m * 1.1 THEN
    UPDATE outfit_parts SET removed_at = NEW.at WHERE id = part.id;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER tip_check BEFORE INSERT ON tip_checks FOR EACH ROW EXECUTE FUNCTION kerf_tip_check();
CREATE TRIGGER append_only BEFORE UPDATE ON tip_checks FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON tip_checks FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON tip_checks FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON tip_checks DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'part_id');
REVOKE ALL ON FUNCTION kerf_tip_check() FROM PUBLIC;
DO $$
BEGIN
  REVOKE ALL ON tip_checks FROM PUBLIC;
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT SELECT, INSERT ON tip_checks TO kerfwatch_runtime; END IF;
END $$;
