-- Vehicles, and what rides on them from one site to another.
CREATE TABLE "vehicles" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "plate" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "has_trailer" BOOLEAN NOT NULL DEFAULT false,
    "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "removed_at" TIMESTAMPTZ(3),

    CONSTRAINT "vehicles_pkey" PRIMARY KEY ("id"),
    CONSTRAINT vehicles_body CHECK (body IN ('open_bed', 'ventilated_box', 'closed_box')),
    CONSTRAINT vehicles_words CHECK (length(name) BETWEEN 1 AND 60 AND length(plate) BETWEEN 1 AND 20)
);
ALTER TABLE "vehicles" ADD CONSTRAINT "vehicles_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX vehicles_plate ON vehicles (plate) WHERE removed_at IS NULL;

CREATE TABLE "trips" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "to_site_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "driver_id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'loading',
    "checks" JSONB NOT NULL DEFAULT '[]',
    "other_gross_kg" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "shipping_paper_no" TEXT,
    "driver_trained" BOOLEAN NOT NULL DEFAULT false,
    "placards_shown" BOOLEAN NOT NULL DEFAULT false,
    "made_by" UUID NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "left_at" TIMESTAMPTZ(3),
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "trips_pkey" PRIMARY KEY ("id"),
    CONSTRAINT trips_purpose CHECK (purpose IN ('supports_principal_business', 'delivery_of_goods')),
    CONSTRAINT trips_state CHECK (state IN ('loading', 'under_way', 'ended')),
    CONSTRAINT trips_other CHECK (other_gross_kg BETWEEN 0 AND 20000),
    CONSTRAINT trips_sites CHECK (site_id <> to_site_id)
);
ALTER TABLE "trips" ADD CONSTRAINT "trips_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "trips" ADD CONSTRAINT "trips_to_site_id_fkey" FOREIGN KEY ("to_site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "trips" ADD CONSTRAINT "trips_vehicle_id_fkey" FOREIGN KEY ("vehicle_id") REFERENCES "vehicles"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "trips" ADD CONSTRAINT "trips_driver_id_fkey" FOREIGN KEY ("driver_id") REFERENCES "people"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX trips_one_a_vehicle ON trips (vehicle_id) WHERE state <> 'ended';
CREATE INDEX "trips_site_id_made_at_idx" ON "trips"("site_id", "made_at");
CREATE INDEX "trips_to_site_id_made_at_idx" ON "trips"("to_site_id", "made_at");

CREATE TABLE "trip_items" (
    "id" UUID NOT NULL,
    "trip_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "cylinder_id" UUID NOT NULL,
    "body" TEXT NOT NULL,
    "gross_kg" DOUBLE PRECISION NOT NULL,
    "is_weighed" BOOLEAN NOT NULL DEFAULT false,
    "loaded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "unloaded_at" TIMESTAMPTZ(3),
    "unloaded_site_id" UUID,

    CONSTRAINT "trip_items_pkey" PRIMARY KEY ("id"),
    CONSTRAINT trip_items_body CHECK (body IN ('truck', 'trailer')),
    CONSTRAINT trip_items_gross CHECK (gross_kg > 0 AND gross_kg < 3000),
    CONSTRAINT trip_items_off CHECK ((unloaded_at IS NULL) = (unloaded_site_id IS NULL))
);
ALTER TABLE "trip_items" ADD CONSTRAINT "trip_items_trip_id_fkey" FOREIGN KEY ("trip_id") REFERENCES "trips"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "trip_items" ADD CONSTRAINT "trip_items_cylinder_id_fkey" FOREIGN KEY ("cylinder_id") REFERENCES "cylinders"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
-- A cylinder rides on one vehicle at a time.
CREATE UNIQUE INDEX trip_items_one_trip ON trip_items (cylinder_id) WHERE unloaded_at IS NULL;
CREATE INDEX "trip_items_trip_id_idx" ON "trip_items"("trip_id");

CREATE FUNCTION kerf_trip() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  open_checks text[];
  total float;
  heaviest float;
BEGIN
  IF TG_OP = 'INSERT' THEN
    NEW.state := 'loading'; NEW.made_at := kerf_now(); NEW.left_at := NULL; NEW.ended_at := NULL;
    IF NOT EXISTS (SELECT 1 FROM vehicles v WHERE v.id = NEW.vehicle_id AND v.removed_at IS NULL) THEN PERFORM kerf_refuse('VEHICLE_GONE'); END IF;
    RETURN NEW;
  END IF;
  IF OLD.state = 'ended' OR (OLD.state = 'under_way' AND NEW.state = 'loading') THEN PERFORM kerf_refuse('TRIP_STATE', jsonb_build_object('state', OLD.state)); END IF;
  IF OLD.state = 'loading' AND NEW.state = 'under_way' THEN
    SELECT coalesce(sum(i.gross_kg), 0) + NEW.other_gross_kg, coalesce(max(i.gross_kg), 0) INTO total, heaviest
      FROM trip_items i WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL;
    IF heaviest = 0 THEN PERFORM kerf_refuse('LOAD_EMPTY'); END IF;
    SELECT array_agg(c) INTO open_checks
      FROM unnest(ARRAY['regulatorsOff', 'valvesShut', 'capped', 'upright', 'lashed', 'ventilated', 'apart', 'driverTold']) c WHERE NOT NEW.checks ? c;
    IF open_checks IS NOT NULL THEN PERFORM kerf_refuse('LOAD_CHECK_OPEN', jsonb_build_object('check', open_checks[1], 'citation', '')); END IF;
    -- 220 lb and 440 lb in kilograms: above them papers and a trained driver.
    IF (total > 440 * 0.45359237 * (1 + 1e-9) OR heaviest > 220 * 0.45359237 * (1 + 1e-9) OR NEW.purpose <> 'supports_principal_business')
       AND (coalesce(NEW.shipping_paper_no, '') = '' OR NOT NEW.driver_trained) THEN
      PERFORM kerf_refuse('LOAD_NEEDS_PAPERS', jsonb_build_object('aggregateLb', round((total / 0.45359237)::numeric, 1), 'citation', '49 CFR 173.6(a)(2), (d)'));
    END IF;
    NEW.left_at := kerf_now();
  END IF;
  IF NEW.state = 'ended' THEN
    IF EXISTS (SELECT 1 FROM trip_items i WHERE i.trip_id = NEW.id AND i.unloaded_at IS NULL) THEN PERFORM kerf_refuse('TRIP_STILL_LOADED'); END IF;
    NEW.ended_at := kerf_now();
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER trip BEFORE INSERT OR UPDATE ON trips FOR EACH ROW EXECUTE FUNCTION kerf_trip();

-- What is on the vehicle is on the road by its own events, and the other way about.
CREATE FUNCTION kerf_trip_item() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  t trips%ROWTYPE;
  c cylinders%ROWTYPE;
BEGIN
  SELECT * INTO t FROM trips WHERE id = NEW.trip_id FOR NO KEY UPDATE;
  SELECT * INTO c FROM cylinders WHERE id = NEW.cylinder_id;
  IF TG_OP = 'INSERT' THEN
    NEW.site_id := t.site_id; NEW.loaded_at := kerf_now(); NEW.unloaded_at := NULL; NEW.unloaded_site_id := NULL;
    IF t.id IS NULL OR t.state <> 'loading' THEN PERFORM kerf_refuse('TRIP_STATE', jsonb_build_object('state', coalesce(t.state, 'ended'))); END IF;
    IF NEW.body = 'trailer' AND NOT EXISTS (SELECT 1 FROM vehicles v WHERE v.id = t.vehicle_id AND v.has_trailer) THEN PERFORM kerf_refuse('NO_TRAILER'); END IF;
    IF c.status IS DISTINCT FROM 'in_transit' THEN PERFORM kerf_refuse('NOT_LOADED', jsonb_build_object('serial', coalesce(c.serial, ''))); END IF;
    RETURN NEW;
  END IF;
  IF OLD.unloaded_at IS NOT NULL THEN PERFORM kerf_refuse('ALREADY_UNLOADED', jsonb_build_object('serial', c.serial)); END IF;
  IF NEW.unloaded_at IS NOT NULL THEN
    NEW.unloaded_at := kerf_now();
    IF c.status = 'in_transit' OR c.site_id IS DISTINCT FROM NEW.unloaded_site_id THEN PERFORM kerf_refuse('NOT_UNLOADED', jsonb_build_object('serial', c.serial)); END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER trip_item BEFORE INSERT OR UPDATE ON trip_items FOR EACH ROW EXECUTE FUNCTION kerf_trip_item();
CREATE TRIGGER stamp BEFORE INSERT ON vehicles FOR EACH ROW EXECUTE FUNCTION kerf_stamp('added_at');
CREATE TRIGGER ends_once BEFORE UPDATE ON vehicles FOR EACH ROW EXECUTE FUNCTION kerf_ends_once('removed_at');

DO $$
DECLARE
  fact text;
  has_runtime boolean := EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime');
BEGIN
  FOREACH fact IN ARRAY ARRAY['vehicles', 'trips', 'trip_items'] LOOP
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF has_runtime THEN EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact); END IF;
  END LOOP;
  IF has_runtime THEN
    GRANT UPDATE (removed_at) ON vehicles TO kerfwatch_runtime;
    GRANT UPDATE (state, checks, other_gross_kg, shipping_paper_no, driver_trained, placards_shown) ON trips TO kerfwatch_runtime;
    GRANT UPDATE (unloaded_at, unloaded_site_id) ON trip_items TO kerfwatch_runtime;
  END IF;
END $$;
REVOKE ALL ON FUNCTION kerf_trip(), kerf_trip_item() FROM PUBLIC;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON vehicles DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF removed_at ON vehicles DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON trips DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id,to_site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF state ON trips DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id,to_site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON trip_items DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'trip_id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF unloaded_at ON trip_items DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id,unloaded_site_id', 'trip_id');
CREATE TRIGGER wake AFTER INSERT ON trips FOR EACH ROW EXECUTE FUNCTION kerf_notify('id');
