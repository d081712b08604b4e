-- What pages of whole sites count, kept as counts, so that what they read grows with sites, sizes and
-- days and never with cylinders and events: cylinders that stand at a site by size and status, and
-- cylinders taken off an outfit by gas and day of the site's own calendar.
CREATE TABLE site_stock (
  site_id uuid NOT NULL,
  gas_id text NOT NULL,
  size_id text NOT NULL,
  status text NOT NULL,
  cylinders integer NOT NULL,
  -- numeric: what was added is taken away again to the last digit
  contents_kg numeric NOT NULL,
  CONSTRAINT site_stock_pkey PRIMARY KEY (site_id, size_id, status),
  CONSTRAINT site_stock_cylinders CHECK (cylinders >= 0)
);
CREATE TABLE emptied_days (
  site_id uuid NOT NULL,
  day date NOT NULL,
  gas_id text NOT NULL,
  cylinders integer NOT NULL,
  CONSTRAINT emptied_days_pkey PRIMARY KEY (site_id, day, gas_id),
  CONSTRAINT emptied_days_cylinders CHECK (cylinders > 0)
);

-- Every writer of these counts holds the site's chain first, as its audit entries do, lower id first:
-- nobody who holds a count ever waits for a chain.
CREATE FUNCTION kerf_hold_chains(one uuid, other uuid) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT pg_advisory_xact_lock(hashtextextended('kerf chain ' || site, 0))
  FROM (SELECT DISTINCT site::text AS site FROM unnest(ARRAY[one, other]) AS site WHERE site IS NOT NULL ORDER BY 1) AS sites
$$;

CREATE FUNCTION kerf_site_stock() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM kerf_hold_chains(OLD.site_id, NEW.site_id);
  IF OLD.site_id IS NOT NULL THEN
    UPDATE site_stock SET cylinders = cylinders - 1, contents_kg = contents_kg - coalesce(OLD.contents_kg, 0)::numeric
    WHERE site_id = OLD.site_id AND size_id = OLD.size_id AND status = OLD.status;
  END IF;
  IF NEW.site_id IS NOT NULL THEN
    INSERT INTO site_stock AS s (site_id, gas_id, size_id, status, cylinders, contents_kg)
    VALUES (NEW.site_id, NEW.gas_id, NEW.size_id, NEW.status, 1, coalesce(NEW.contents_kg, 0)::numeric)
    ON CONFLICT (site_id, size_id, status) DO UPDATE SET cylinders = s.cylinders + 1, contents_kg = s.contents_kg + EXCLUDED.contents_kg;
  END IF;
  RETURN NULL;
END $$;
-- At the end of the transaction, where chains are appended to.
CREATE CONSTRAINT TRIGGER site_stock AFTER UPDATE OF site_id, status, contents_kg ON cylinders DEFERRABLE INITIALLY DEFERRED FOR EACH ROW
  WHEN (OLD.site_id IS DISTINCT FROM NEW.site_id OR OLD.status <> NEW.status OR OLD.contents_kg IS DISTINCT FROM NEW.contents_kg)
  EXECUTE FUNCTION kerf_site_stock();

CREATE FUNCTION kerf_emptied_day() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM kerf_hold_chains(NEW.site_id, NEW.to_site_id);
  INSERT INTO emptied_days AS d (site_id, day, gas_id, cylinders)
  SELECT NEW.site_id, kerf_site_day(NEW.site_id, NEW.at), c.gas_id, 1 FROM cylinders c WHERE c.id = NEW.cylinder_id
  ON CONFLICT (site_id, day, gas_id) DO UPDATE SET cylinders = d.cylinders + 1;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER emptied_day AFTER INSERT ON cylinder_events DEFERRABLE INITIALLY DEFERRED FOR EACH ROW
  WHEN (NEW.kind = 'taken_off') EXECUTE FUNCTION kerf_emptied_day();

-- What the counts must be, from the facts themselves.
CREATE VIEW site_stock_counted AS
  SELECT site_id, gas_id, size_id, status, count(*)::int AS cylinders, sum(coalesce(contents_kg, 0)::numeric) AS contents_kg
  FROM cylinders WHERE site_id IS NOT NULL GROUP BY site_id, gas_id, size_id, status;
CREATE VIEW emptied_days_counted AS
  SELECT e.site_id, (e.at AT TIME ZONE s.zone)::date AS day, c.gas_id, count(*)::int AS cylinders
  FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id JOIN sites s ON s.id = e.site_id
  WHERE e.kind = 'taken_off' GROUP BY 1, 2, 3;
INSERT INTO site_stock SELECT * FROM site_stock_counted;
INSERT INTO emptied_days SELECT * FROM emptied_days_counted;

REVOKE ALL ON site_stock, emptied_days, site_stock_counted, emptied_days_counted FROM PUBLIC;
REVOKE ALL ON FUNCTION kerf_hold_chains(uuid, uuid), kerf_site_stock(), kerf_emptied_day() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT ON site_stock, emptied_days TO kerfwatch_runtime;
  END IF;
END $$;

-- What hangs on outfits, the permits that live on one, and what was cut with it since a reading.
CREATE INDEX cylinders_on_outfits ON cylinders (site_id) WHERE outfit_id IS NOT NULL;
CREATE INDEX permits_living_outfit ON permits (outfit_id, state_at) WHERE state IN ('open', 'held', 'cleared', 'preparing');
CREATE INDEX "hot_work_logs_outfit_id_to_at_idx" ON "hot_work_logs"("outfit_id", "to_at");
