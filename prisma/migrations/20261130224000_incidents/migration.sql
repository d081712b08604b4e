-- Flashback, burn, spot fire, near miss: recorded at once, with what follows at once; then followed up and closed.
CREATE TABLE "incidents" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "area_id" UUID NOT NULL,
    "permit_id" UUID,
    "outfit_id" UUID,
    "kind" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "done_words" TEXT,
    "happened_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,

    CONSTRAINT "incidents_pkey" PRIMARY KEY ("id"),
    CONSTRAINT incidents_kind CHECK (kind IN ('flashback', 'burn', 'spot_fire', 'near_miss')),
    CONSTRAINT incidents_what CHECK (length(trim(what)) > 0)
);
ALTER TABLE "incidents" ADD CONSTRAINT "incidents_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "incidents_site_id_recorded_at_id_idx" ON "incidents"("site_id", "recorded_at", "id");
CREATE INDEX "incidents_permit_id_idx" ON "incidents"("permit_id");

CREATE TABLE "incident_events" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "incident_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,

    CONSTRAINT "incident_events_pkey" PRIMARY KEY ("id"),
    CONSTRAINT incident_events_kind CHECK (kind IN ('followed_up', 'closed')),
    CONSTRAINT incident_events_words CHECK (length(trim(words)) > 0)
);
ALTER TABLE "incident_events" ADD CONSTRAINT "incident_events_incident_id_fkey" FOREIGN KEY ("incident_id") REFERENCES "incidents"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX "incident_events_incident_id_at_idx" ON "incident_events"("incident_id", "at");

CREATE FUNCTION kerf_incident() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  IF NEW.permit_id IS NOT NULL THEN
    p := kerf_lock_permit(NEW.permit_id);
    NEW.area_id := p.area_id; NEW.outfit_id := coalesce(NEW.outfit_id, p.outfit_id);
  END IF;
  SELECT a.site_id INTO NEW.site_id FROM areas a WHERE a.id = NEW.area_id;
  NEW.recorded_at := kerf_now();
  IF NEW.happened_at > NEW.recorded_at THEN reasons := reasons || kerf_reason('IN_FUTURE'); END IF;
  IF NEW.outfit_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM outfits o WHERE o.id = NEW.outfit_id AND o.site_id = NEW.site_id) THEN
    reasons := reasons || kerf_reason('OUTFIT_OTHER_SITE');
  END IF;
  IF NEW.kind = 'flashback' AND NEW.outfit_id IS NULL THEN reasons := reasons || kerf_reason('INCIDENT_OUTFIT'); END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER incident BEFORE INSERT ON incidents FOR EACH ROW EXECUTE FUNCTION kerf_incident();

-- What follows at once: the work is held, a spot fire starts the watch over, a flashback takes the outfit out of service.
CREATE FUNCTION kerf_incident_follows() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  SELECT * INTO p FROM permits WHERE id = NEW.permit_id;
  IF p.state = 'open' AND NEW.kind <> 'near_miss' THEN
    INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
    VALUES (gen_random_uuid(), NEW.site_id, p.id, 'held', NEW.person_id, NEW.role_then, NEW.id, jsonb_build_object('reason', 'incident', 'incident', NEW.kind));
  ELSIF p.state IN ('held', 'watch') AND NEW.kind = 'spot_fire' THEN
    INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
    VALUES (gen_random_uuid(), NEW.site_id, p.id, 'watch_restarted', NEW.person_id, NEW.role_then, NEW.id, '{"because": "spot_fire"}');
  END IF;
  IF NEW.kind = 'flashback' THEN
    INSERT INTO outfit_events (id, outfit_id, site_id, kind, person_id, role_then, reason, data)
    VALUES (gen_random_uuid(), NEW.outfit_id, NEW.site_id, 'flashback', NEW.person_id, NEW.role_then, NEW.what, jsonb_build_object('incidentId', NEW.id));
  END IF;
  PERFORM kerf_notify_people(NEW.site_id, 'incident', coalesce(NEW.permit_id, NEW.id),
    jsonb_build_object('kind', (SELECT a.name FROM areas a WHERE a.id = NEW.area_id), 'name', NEW.what), 'incident:' || NEW.id);
  RETURN NULL;
END $$;
CREATE TRIGGER incident_follows AFTER INSERT ON incidents FOR EACH ROW EXECUTE FUNCTION kerf_incident_follows();

-- It is closed once, after somebody followed it up; a flashback not before its outfit was inspected.
CREATE FUNCTION kerf_incident_event() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  i incidents%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  SELECT * INTO i FROM incidents WHERE id = NEW.incident_id FOR NO KEY UPDATE;
  IF i.id IS NULL THEN PERFORM kerf_refuse('INCIDENT_UNKNOWN'); END IF;
  NEW.at := kerf_now(); NEW.site_id := i.site_id;
  IF EXISTS (SELECT 1 FROM incident_events e WHERE e.incident_id = i.id AND e.kind = 'closed') THEN PERFORM kerf_refuse('INCIDENT_CLOSED'); END IF;
  IF NEW.kind = 'closed' THEN
    IF NOT EXISTS (SELECT 1 FROM incident_events e WHERE e.incident_id = i.id AND e.kind = 'followed_up') THEN reasons := reasons || kerf_reason('INCIDENT_NOT_FOLLOWED'); END IF;
    IF i.kind = 'flashback' AND NOT EXISTS (
      SELECT 1 FROM outfit_events e WHERE e.outfit_id = i.outfit_id AND e.kind = 'inspected' AND e.at >= i.recorded_at) THEN
      reasons := reasons || kerf_reason('INSPECTION_MISSING');
    END IF;
    PERFORM kerf_refuse_all(reasons);
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER incident_event BEFORE INSERT ON incident_events FOR EACH ROW EXECUTE FUNCTION kerf_incident_event();

DO $$
DECLARE
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['incidents', 'incident_events'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact); END IF;
  END LOOP;
END $$;
REVOKE ALL ON FUNCTION kerf_incident(), kerf_incident_follows(), kerf_incident_event() FROM PUBLIC;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON incidents DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON incident_events DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'incident_id');
CREATE TRIGGER wake AFTER INSERT ON incidents FOR EACH ROW EXECUTE FUNCTION kerf_notify('id');
CREATE TRIGGER wake AFTER INSERT ON incident_events FOR EACH ROW EXECUTE FUNCTION kerf_notify('incident_id');
