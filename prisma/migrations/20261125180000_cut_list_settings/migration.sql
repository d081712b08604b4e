-- What a whole list is estimated by besides its fuel: purity of the oxygen, the shop's own fuel flow where no
-- chart has the fuel, and judged figures that were changed. Empty is what it was before.
ALTER TABLE cut_lists ADD COLUMN settings jsonb NOT NULL DEFAULT '{}',
  ADD CONSTRAINT cut_lists_settings CHECK (jsonb_typeof(settings) = 'object');
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT UPDATE (settings) ON cut_lists TO kerfwatch_runtime;
  END IF;
END $$;
