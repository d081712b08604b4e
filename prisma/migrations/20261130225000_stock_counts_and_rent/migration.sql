-- Stock counts: what was seen, and, after a second look, what it became; and what suppliers ask for rent.
CREATE TABLE "stock_counts" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "stock_counts_pkey" PRIMARY KEY ("id")
);
CREATE INDEX "stock_counts_site_id_at_idx" ON "stock_counts"("site_id", "at");
CREATE TABLE "stock_sightings" (
    "id" UUID NOT NULL,
    "count_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "area_id" UUID,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "stock_sightings_pkey" PRIMARY KEY ("id"),
    -- The same cylinder seen twice is one sighting.
    CONSTRAINT stock_sightings_once UNIQUE (count_id, serial)
);
CREATE TABLE "stock_count_ends" (
    "count_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "found" INTEGER NOT NULL,
    "misplaced" INTEGER NOT NULL,
    "lost" INTEGER NOT NULL,
    "left_open" INTEGER NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "stock_count_ends_pkey" PRIMARY KEY ("count_id")
);
ALTER TABLE "stock_sightings" ADD CONSTRAINT "stock_sightings_count_id_fkey" FOREIGN KEY ("count_id") REFERENCES "stock_counts"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "stock_count_ends" ADD CONSTRAINT "stock_count_ends_count_id_fkey" FOREIGN KEY ("count_id") REFERENCES "stock_counts"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Nothing is seen for a count that is over, and all of it belongs to the count's site.
CREATE FUNCTION kerf_stock_count() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.at := kerf_now();
  SELECT c.site_id INTO NEW.site_id FROM stock_counts c WHERE c.id = NEW.count_id FOR NO KEY UPDATE;
  IF EXISTS (SELECT 1 FROM stock_count_ends e WHERE e.count_id = NEW.count_id) THEN PERFORM kerf_refuse('COUNT_OVER'); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER stock_count BEFORE INSERT ON stock_sightings FOR EACH ROW EXECUTE FUNCTION kerf_stock_count();
CREATE TRIGGER stock_count BEFORE INSERT ON stock_count_ends FOR EACH ROW EXECUTE FUNCTION kerf_stock_count();
CREATE TRIGGER stamp BEFORE INSERT ON stock_counts FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');

-- Terms of a supplier for a size, from a day on; a later row takes over.
CREATE TABLE "rent_terms" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "supplier_id" UUID NOT NULL,
    "size_id" TEXT NOT NULL,
    "free_days" INTEGER NOT NULL,
    "rent_minor_per_day" INTEGER NOT NULL,
    "demurrage_from_day" INTEGER,
    "demurrage_minor_per_day" INTEGER NOT NULL,
    "deposit_minor" INTEGER NOT NULL,
    "valid_from" DATE NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "rent_terms_pkey" PRIMARY KEY ("id"),
    CONSTRAINT rent_terms_numbers CHECK (free_days >= 0 AND rent_minor_per_day >= 0 AND demurrage_from_day > 0 AND demurrage_minor_per_day >= 0 AND deposit_minor >= 0)
);
CREATE INDEX "rent_terms_site_id_supplier_id_valid_from_idx" ON "rent_terms"("site_id", "supplier_id", "valid_from");
CREATE TRIGGER stamp BEFORE INSERT ON rent_terms FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');

REVOKE ALL ON FUNCTION kerf_stock_count() FROM PUBLIC;
DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['stock_counts', 'stock_sightings', 'stock_count_ends', 'rent_terms'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
      EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact);
    END IF;
  END LOOP;
END $$;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON stock_counts DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON stock_sightings DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'count_id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON stock_count_ends DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'count_id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON rent_terms DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'supplier_id');
