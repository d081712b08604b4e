-- Serials are searched by any part of them, and compared as a tired eye reads them: letters that look
-- like digits as the digit, without spaces and strokes. lib/rules/serial-near.ts folds the same way.
CREATE EXTENSION IF NOT EXISTS pg_trgm;
CREATE FUNCTION kerf_serial_key(serial text) RETURNS text LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT translate(regexp_replace(upper(serial), '[^A-Z0-9]', '', 'g'), 'OQILZSBG', '00112586')
$$;
CREATE INDEX cylinders_serial_part ON cylinders USING gin (serial gin_trgm_ops);
CREATE INDEX cylinders_serial_key_folded ON cylinders (kerf_serial_key(serial));
REVOKE ALL ON FUNCTION kerf_serial_key(text) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT EXECUTE ON FUNCTION kerf_serial_key(text) TO kerfwatch_runtime; END IF;
END $$;
-- What the extension brought is anybody's to call, as with the first one.
DO $$
DECLARE
  entry record;
BEGIN
  FOR entry IN
    SELECT p.oid::regprocedure AS signature FROM pg_proc p
    WHERE p.pronamespace = 'public'::regnamespace AND EXISTS (SELECT 1 FROM pg_depend d JOIN pg_extension x ON x.oid = d.refobjid WHERE d.objid = p.oid AND d.deptype = 'e' AND x.extname = 'pg_trgm')
  LOOP EXECUTE format('GRANT EXECUTE ON FUNCTION %s TO PUBLIC', entry.signature); END LOOP;
END $$;
