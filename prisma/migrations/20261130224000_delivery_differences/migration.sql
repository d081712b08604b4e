-- What was not as ordered when a truck came, row by row, and how each was settled. Nothing is dropped:
-- what stayed on the truck is written down too.
CREATE TABLE "delivery_differences" (
    "id" UUID NOT NULL,
    "delivery_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "serial" TEXT,
    "size_id" TEXT,
    "quantity" INTEGER NOT NULL DEFAULT 1,
    "batch" TEXT,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "delivery_differences_pkey" PRIMARY KEY ("id"),
    CONSTRAINT delivery_differences_kind CHECK (kind IN ('short', 'damaged', 'impure', 'refused_wrong', 'refused_overdue', 'refused_damaged', 'refused_extra')),
    CONSTRAINT delivery_differences_quantity CHECK (quantity > 0),
    CONSTRAINT delivery_differences_what CHECK (CASE kind WHEN 'short' THEN size_id IS NOT NULL WHEN 'impure' THEN batch IS NOT NULL ELSE serial IS NOT NULL END)
);
CREATE INDEX "delivery_differences_delivery_id_idx" ON "delivery_differences"("delivery_id");
CREATE INDEX "delivery_differences_site_id_at_idx" ON "delivery_differences"("site_id", "at");
ALTER TABLE "delivery_differences" ADD CONSTRAINT "delivery_differences_delivery_id_fkey" FOREIGN KEY ("delivery_id") REFERENCES "deliveries"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE TABLE "delivery_settlements" (
    "difference_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "how" TEXT NOT NULL,
    "note" TEXT,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    -- One settlement a difference.
    CONSTRAINT "delivery_settlements_pkey" PRIMARY KEY ("difference_id"),
    CONSTRAINT delivery_settlements_how CHECK (how IN ('replaced', 'credited', 'returned', 'kept', 'reordered'))
);
ALTER TABLE "delivery_settlements" ADD CONSTRAINT "delivery_settlements_difference_id_fkey" FOREIGN KEY ("difference_id") REFERENCES "delivery_differences"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A difference belongs to the site of its delivery, a settlement to that of its difference.
CREATE FUNCTION kerf_difference() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.at := kerf_now();
  IF TG_TABLE_NAME = 'delivery_differences' THEN
    SELECT d.site_id INTO NEW.site_id FROM deliveries d WHERE d.id = NEW.delivery_id;
  ELSE
    SELECT d.site_id INTO NEW.site_id FROM delivery_differences d WHERE d.id = NEW.difference_id;
  END IF;
  RETURN NEW;
END $$;
REVOKE ALL ON FUNCTION kerf_difference() FROM PUBLIC;
DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['delivery_differences', 'delivery_settlements'] LOOP
    EXECUTE format('CREATE TRIGGER difference BEFORE INSERT ON %I FOR EACH ROW EXECUTE FUNCTION kerf_difference()', fact);
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
      EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact);
    END IF;
  END LOOP;
END $$;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON delivery_differences DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'delivery_id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON delivery_settlements DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'difference_id');
