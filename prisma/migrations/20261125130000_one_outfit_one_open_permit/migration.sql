-- One outfit burns under one open permit at a time. The outfit's row is locked first (after the
-- permit's), so that of two permits issued at the same moment the second sees the first.
CREATE FUNCTION kerf_outfit_free() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  outfit_number text;
  burning text;
BEGIN
  SELECT o.number INTO outfit_number FROM outfits o WHERE o.id = NEW.outfit_id FOR NO KEY UPDATE;
  SELECT j.number || '-' || p.number INTO burning
    FROM permits p JOIN jobs j ON j.id = p.job_id
    WHERE p.outfit_id = NEW.outfit_id AND p.state = 'open' AND p.id <> NEW.id LIMIT 1;
  IF burning IS NOT NULL THEN
    PERFORM kerf_refuse('OUTFIT_IN_USE', jsonb_build_object('outfit', outfit_number, 'permit', burning));
  END IF;
  RETURN NEW;
END $$;
REVOKE ALL ON FUNCTION kerf_outfit_free() FROM PUBLIC;
CREATE TRIGGER outfit_free BEFORE UPDATE OF state ON permits FOR EACH ROW
  WHEN (NEW.state = 'open' AND OLD.state <> 'open' AND NEW.outfit_id IS NOT NULL)
  EXECUTE FUNCTION kerf_outfit_free();
CREATE INDEX permits_burning_outfit ON permits (outfit_id) WHERE state = 'open';
