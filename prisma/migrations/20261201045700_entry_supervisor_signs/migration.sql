-- Where an entry permit is linked its supervisor signs as well, after the watch and before the PAI (29 CFR 1926.1205, 1206(p)).
ALTER TABLE qualifications DROP CONSTRAINT qualifications_kind,
  ADD CONSTRAINT qualifications_kind CHECK (kind IN ('torch_operator', 'fire_watch', 'pai', 'hazmat_driver', 'entry_supervisor'));
ALTER TABLE signatures DROP CONSTRAINT signatures_act,
  ADD CONSTRAINT signatures_act CHECK ((act, role) IN (('agree', 'operator'), ('acknowledge', 'fire_watch'), ('enter', 'entry_supervisor'), ('issue', 'pai'), ('resume', 'pai'), ('go_back', 'pai'), ('final_watch', 'fire_watch'), ('final_pai', 'pai')));

DO $$
DECLARE
  before text := pg_get_functiondef('kerf_signature()'::regprocedure);
  after text := replace(before, 'WHEN ''issue'' THEN ''{cleared}''', 'WHEN ''enter'' THEN ''{cleared}'' WHEN ''issue'' THEN ''{cleared}''');
BEGIN
  IF after = before THEN RAISE EXCEPTION 'a signature has no states'; END IF;
  EXECUTE after;
END $$;

CREATE FUNCTION kerf_entry_signed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  entered timestamptz;
  signed timestamptz;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.entry_permit IS NULL OR p.state <> 'cleared' THEN RETURN NEW; END IF;
  entered := kerf_signed_at(p, 'enter', NULL, p.cleared_at);
  signed := kerf_signed_at(p, 'issue', NEW.person_id, p.cleared_at);
  IF entered IS NULL THEN PERFORM kerf_refuse_all(kerf_reason('SIGNATURE_MISSING', '{"act": "enter"}')); END IF;
  IF signed < entered THEN PERFORM kerf_refuse_all(kerf_reason('PAI_NOT_LAST')); END IF;
  RETURN NEW;
END $$;
-- Fires before the event's own check, by its name, which moves the permit on.
CREATE TRIGGER entry_signed BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'issued') EXECUTE FUNCTION kerf_entry_signed();
REVOKE ALL ON FUNCTION kerf_entry_signed() FROM PUBLIC;
