-- A password that somebody else made holds for the first sign-in only, until this instant; null: it is the person's own.
ALTER TABLE people ADD COLUMN "password_once_until" TIMESTAMPTZ(3);
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT UPDATE (password_once_until) ON people TO kerfwatch_runtime; END IF;
END $$;

-- Whoever has a password that another made has set none of their own: nothing is signed in their name.
CREATE FUNCTION kerf_signer_has_begun() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM people p WHERE p.id = NEW.person_id AND p.password_once_until IS NOT NULL) THEN
    PERFORM kerf_refuse('OWN_PASSWORD_FIRST');
  END IF;
  RETURN NEW;
END $$;
REVOKE ALL ON FUNCTION kerf_signer_has_begun() FROM PUBLIC;
CREATE TRIGGER has_begun BEFORE INSERT ON signatures FOR EACH ROW EXECUTE FUNCTION kerf_signer_has_begun();

-- A role taken or given ends the sessions of its holder; whoever gives themselves one (the site they just made) stays.
CREATE OR REPLACE FUNCTION kerf_grant_epoch() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'INSERT' AND NEW.person_id::text = current_setting('kerf.actor_id', true) THEN RETURN NULL; END IF;
  UPDATE people SET session_epoch = session_epoch + 1 WHERE id = NEW.person_id;
  RETURN NULL;
END $$;
