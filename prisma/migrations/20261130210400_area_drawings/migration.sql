-- Pictures: plans of an area, photos beside an answer or a sheet of paper. What a picture is stands in one row, which the
-- audit chain holds with its hash; the bytes stand apart, so that the chain does not carry them.
CREATE TABLE "pictures" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "about" TEXT,
    "note" TEXT,
    "mime" TEXT NOT NULL,
    "width_px" INTEGER NOT NULL,
    "height_px" INTEGER NOT NULL,
    "byte_count" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "pictures_pkey" PRIMARY KEY ("id"),
    CONSTRAINT pictures_purpose CHECK (purpose IN ('plan', 'precaution', 'answer', 'paper')),
    CONSTRAINT pictures_about CHECK (about IS NULL OR length(about) BETWEEN 1 AND 80),
    CONSTRAINT pictures_note CHECK (note IS NULL OR length(note) BETWEEN 1 AND 300),
    CONSTRAINT pictures_mime CHECK (mime IN ('image/jpeg', 'image/png')),
    CONSTRAINT pictures_size CHECK (width_px BETWEEN 1 AND 4096 AND height_px BETWEEN 1 AND 4096),
    CONSTRAINT pictures_bytes CHECK (byte_count BETWEEN 1 AND CASE purpose WHEN 'plan' THEN 1000000 ELSE 300000 END),
    CONSTRAINT pictures_sha256 CHECK (sha256 ~ '^[0-9a-f]{64}$')
);
ALTER TABLE "pictures" ADD CONSTRAINT "pictures_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "pictures_permit_id_at_idx" ON "pictures"("permit_id", "at");

CREATE TABLE "picture_bytes" (
    "picture_id" UUID NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "picture_bytes_pkey" PRIMARY KEY ("picture_id")
);
ALTER TABLE "picture_bytes" ADD CONSTRAINT "picture_bytes_picture_id_fkey" FOREIGN KEY ("picture_id") REFERENCES "pictures"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

CREATE FUNCTION kerf_picture() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id;
  IF p.state = 'withdrawn' THEN PERFORM kerf_refuse('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'picture')); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER picture BEFORE INSERT ON pictures FOR EACH ROW EXECUTE FUNCTION kerf_picture();

-- The bytes are those of the row that names them.
CREATE FUNCTION kerf_picture_bytes() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  kept pictures%ROWTYPE;
BEGIN
  SELECT * INTO kept FROM pictures WHERE id = NEW.picture_id;
  IF kept.id IS NULL OR kept.byte_count <> octet_length(NEW.bytes) OR kept.sha256 <> encode(sha256(NEW.bytes), 'hex') THEN
    PERFORM kerf_refuse('PICTURE_DIFFERS', '{}', 'KW004');
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER picture_bytes BEFORE INSERT ON picture_bytes FOR EACH ROW EXECUTE FUNCTION kerf_picture_bytes();

-- No row about a picture without the picture.
CREATE FUNCTION kerf_picture_whole() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM picture_bytes b WHERE b.picture_id = NEW.id) THEN PERFORM kerf_refuse('PICTURE_MISSING', '{}', 'KW004'); END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER picture_whole AFTER INSERT ON pictures DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_picture_whole();

-- The drawing of a permit's area. Another drawing is a new row with the next number; the last counts.
CREATE TABLE "area_drawings" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL DEFAULT 0,
    "survey_no" INTEGER NOT NULL DEFAULT 0,
    "drawing" JSONB NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "area_drawings_pkey" PRIMARY KEY ("id"),
    CONSTRAINT area_drawings_shape CHECK (jsonb_typeof(drawing -> 'sheets') = 'array' AND jsonb_typeof(drawing -> 'marks') = 'array'
      AND jsonb_array_length(drawing -> 'sheets') BETWEEN 1 AND 8 AND jsonb_array_length(drawing -> 'marks') <= 150)
);
ALTER TABLE "area_drawings" ADD CONSTRAINT "area_drawings_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX "area_drawings_permit_id_revision_key" ON "area_drawings"("permit_id", "revision");

CREATE FUNCTION kerf_area_drawing() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id; NEW.survey_no := p.survey_no;
  SELECT coalesce(max(d.revision), 0) + 1 INTO NEW.revision FROM area_drawings d WHERE d.permit_id = p.id;
  IF p.state NOT IN ('preparing', 'held', 'watch') THEN
    PERFORM kerf_refuse('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'drawing'));
  END IF;
  IF EXISTS (SELECT 1 FROM jsonb_array_elements(NEW.drawing -> 'sheets') s
             WHERE jsonb_typeof(s -> 'pictureId') = 'string' AND NOT EXISTS (
               SELECT 1 FROM pictures x JOIN permits other ON other.id = x.permit_id
               WHERE x.id::text = s ->> 'pictureId' AND x.purpose = 'plan' AND other.area_id = p.area_id)) THEN
    PERFORM kerf_refuse('PLAN_OF_OTHER_AREA');
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER area_drawing BEFORE INSERT ON area_drawings FOR EACH ROW EXECUTE FUNCTION kerf_area_drawing();

DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['pictures', 'picture_bytes', 'area_drawings'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
      EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact);
    END IF;
  END LOOP;
END $$;
REVOKE ALL ON FUNCTION kerf_picture(), kerf_picture_bytes(), kerf_picture_whole(), kerf_area_drawing() FROM PUBLIC;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON pictures DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'permit_id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON area_drawings DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'permit_id');
CREATE TRIGGER wake AFTER INSERT ON pictures FOR EACH ROW EXECUTE FUNCTION kerf_notify('permit_id');
CREATE TRIGGER wake AFTER INSERT ON area_drawings FOR EACH ROW EXECUTE FUNCTION kerf_notify('permit_id');
