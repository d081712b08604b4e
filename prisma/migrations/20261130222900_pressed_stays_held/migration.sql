-- A press of stop is taken back, with a PIN, before anybody goes on. Fires before the event's own
-- trigger, by its name, which would clear the press.
CREATE FUNCTION kerf_not_while_pressed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.stop_pressed_at IS NOT NULL AND p.stopped_at IS NULL AND p.state IN ('held', 'watch') THEN
    PERFORM kerf_refuse('STOP_PRESSED', jsonb_build_object('whenAt', kerf_ms(p.stop_pressed_at)));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER not_while_pressed BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind IN ('resumed', 'reopened')) EXECUTE FUNCTION kerf_not_while_pressed();
REVOKE ALL ON FUNCTION kerf_not_while_pressed() FROM PUBLIC;
