-- What was written by pen on the posted sheet where no phone may go, typed in with a photo of it. It is kept as what somebody
-- says of that time: nothing is counted from it, so it shortens nothing and moves nothing.
CREATE TABLE "paper_entries" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "picture_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "written_at" TIMESTAMPTZ(3) NOT NULL,
    "written_by" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "paper_entries_pkey" PRIMARY KEY ("id"),
    CONSTRAINT paper_entries_kind CHECK (kind IN ('round', 'cut', 'gas', 'watch', 'other')),
    CONSTRAINT paper_entries_words CHECK (length(trim(words)) BETWEEN 1 AND 300 AND length(trim(written_by)) BETWEEN 1 AND 80)
);
ALTER TABLE "paper_entries" ADD CONSTRAINT "paper_entries_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paper_entries" ADD CONSTRAINT "paper_entries_picture_id_fkey" FOREIGN KEY ("picture_id") REFERENCES "pictures"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "paper_entries_permit_id_written_at_idx" ON "paper_entries"("permit_id", "written_at");

CREATE FUNCTION kerf_paper_entry() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.recorded_at := kerf_now(); NEW.site_id := p.site_id;
  IF p.issued_at IS NULL THEN PERFORM kerf_refuse('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'paper')); END IF;
  IF NEW.written_at > NEW.recorded_at THEN reasons := reasons || kerf_reason('IN_FUTURE'); END IF;
  IF NEW.written_at < p.issued_at THEN reasons := reasons || kerf_reason('PAPER_BEFORE_ISSUE', jsonb_build_object('whenAt', kerf_ms(p.issued_at))); END IF;
  -- The same day: by the calendar, or for who works over midnight within twelve hours.
  IF kerf_site_day(p.site_id, NEW.written_at) < kerf_site_day(p.site_id, NEW.recorded_at) AND NEW.recorded_at > NEW.written_at + interval '12 hours' THEN
    reasons := reasons || kerf_reason('PAPER_TOO_LATE');
  END IF;
  IF NOT EXISTS (SELECT 1 FROM pictures x WHERE x.id = NEW.picture_id AND x.permit_id = p.id AND x.purpose = 'paper') THEN
    reasons := reasons || kerf_reason('PAPER_PHOTO_MISSING');
  END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER paper_entry BEFORE INSERT ON paper_entries FOR EACH ROW EXECUTE FUNCTION kerf_paper_entry();
CREATE TRIGGER append_only BEFORE UPDATE ON paper_entries FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON paper_entries FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON paper_entries FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON paper_entries DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'permit_id');
CREATE TRIGGER wake AFTER INSERT ON paper_entries FOR EACH ROW EXECUTE FUNCTION kerf_notify('permit_id');
REVOKE ALL ON paper_entries FROM PUBLIC;
REVOKE ALL ON FUNCTION kerf_paper_entry() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT SELECT, INSERT ON paper_entries TO kerfwatch_runtime; END IF;
END $$;
