-- What a supplier and a site have agreed on, from a day on; a later row takes over. Where there is none,
-- the supplier's own lead time and fee hold, and the site's delivery days.
CREATE TABLE "supply_agreements" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "supplier_id" UUID NOT NULL,
    "lead_days" INTEGER NOT NULL,
    "delivery_days" INTEGER[],
    "least_cylinders" INTEGER NOT NULL DEFAULT 1,
    "most_cylinders" INTEGER,
    "delivery_fee_minor" INTEGER NOT NULL DEFAULT 0,
    "breaks" JSONB NOT NULL DEFAULT '[]',
    "valid_from" DATE NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "supply_agreements_pkey" PRIMARY KEY ("id"),
    CONSTRAINT supply_agreements_numbers CHECK (lead_days BETWEEN 0 AND 60 AND least_cylinders BETWEEN 1 AND 1000 AND most_cylinders BETWEEN least_cylinders AND 1000 AND delivery_fee_minor >= 0),
    CONSTRAINT supply_agreements_days CHECK (delivery_days <@ ARRAY[1, 2, 3, 4, 5, 6, 7]),
    CONSTRAINT supply_agreements_breaks CHECK (jsonb_typeof(breaks) = 'array' AND jsonb_array_length(breaks) <= 10)
);
ALTER TABLE "supply_agreements" ADD CONSTRAINT "supply_agreements_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "supply_agreements" ADD CONSTRAINT "supply_agreements_supplier_id_fkey" FOREIGN KEY ("supplier_id") REFERENCES "suppliers"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "supply_agreements_site_id_supplier_id_valid_from_idx" ON "supply_agreements"("site_id", "supplier_id", "valid_from");
CREATE TRIGGER stamp BEFORE INSERT ON supply_agreements FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE TRIGGER append_only BEFORE UPDATE ON supply_agreements FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON supply_agreements FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON supply_agreements FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON supply_agreements DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'supplier_id');

-- What a vehicle and its trailer may carry by their own papers; null: nobody said.
ALTER TABLE vehicles
  ADD COLUMN "payload_kg" DOUBLE PRECISION,
  ADD COLUMN "trailer_payload_kg" DOUBLE PRECISION,
  ADD CONSTRAINT vehicles_payload CHECK (payload_kg > 0 AND payload_kg <= 30000 AND trailer_payload_kg > 0 AND trailer_payload_kg <= 30000);

-- Who has had the training for papers: may drive what is past materials of trade.
ALTER TABLE qualifications DROP CONSTRAINT qualifications_kind,
  ADD CONSTRAINT qualifications_kind CHECK (kind IN ('torch_operator', 'fire_watch', 'pai', 'hazmat_driver'));

DO $$
BEGIN
  REVOKE ALL ON supply_agreements FROM PUBLIC;
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON supply_agreements TO kerfwatch_runtime;
    GRANT UPDATE (name, plate, body, has_trailer, payload_kg, trailer_payload_kg) ON vehicles TO kerfwatch_runtime;
  END IF;
END $$;
CREATE CONSTRAINT TRIGGER audit_edit AFTER UPDATE OF name, plate, body, has_trailer, payload_kg, trailer_payload_kg ON vehicles DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
