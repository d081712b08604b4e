-- Every shape that the calculation cuts. Rows from before hold some of them already.
ALTER TABLE cuts ADD CONSTRAINT cuts_shape CHECK (shape IN (
  'plate', 'flat_bar', 'square_bar', 'round_bar', 'rebar', 'pipe', 'pipe_size', 'angle', 'channel', 'w_shape',
  's_shape', 'hss', 'rivet_head', 'bolt_head', 'gouge', 'wash_off'));

-- How crews run against the tables, as it was learned from the readings of jobs that are done. Each
-- learning is a row of its own, so that an estimate that was kept can be held against what was known then.
CREATE TABLE crew_factors (
  id uuid NOT NULL,
  learned_at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  jobs integer NOT NULL,
  factors jsonb NOT NULL,
  CONSTRAINT crew_factors_pkey PRIMARY KEY (id),
  CONSTRAINT crew_factors_jobs CHECK (jobs >= 0)
);
CREATE INDEX crew_factors_learned_at_idx ON crew_factors (learned_at);
CREATE TRIGGER stamp BEFORE INSERT ON crew_factors FOR EACH ROW EXECUTE FUNCTION kerf_stamp('learned_at');
CREATE TRIGGER append_only BEFORE UPDATE ON crew_factors FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON crew_factors FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON crew_factors FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();

REVOKE ALL ON crew_factors FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON crew_factors TO kerfwatch_runtime;
  END IF;
END $$;
