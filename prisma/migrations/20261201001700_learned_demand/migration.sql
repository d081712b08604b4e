-- How each class of demand is forecast, how far its forecasts missed, and where sites without history start, as learned
-- from all sites. Each learning is a row of its own, so that a plan can be held against what was known then.
CREATE TABLE learned_demand (
  id uuid NOT NULL,
  learned_at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  series integer NOT NULL,
  learned jsonb NOT NULL,
  CONSTRAINT learned_demand_pkey PRIMARY KEY (id),
  CONSTRAINT learned_demand_series CHECK (series >= 0)
);
CREATE INDEX learned_demand_learned_at_idx ON learned_demand (learned_at);
CREATE TRIGGER stamp BEFORE INSERT ON learned_demand FOR EACH ROW EXECUTE FUNCTION kerf_stamp('learned_at');
CREATE TRIGGER append_only BEFORE UPDATE ON learned_demand FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON learned_demand FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON learned_demand FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();

REVOKE ALL ON learned_demand FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON learned_demand TO kerfwatch_runtime;
  END IF;
END $$;
