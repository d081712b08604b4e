-- A site's gas week by week as one look through the record found it. Worked out from the record, so no fact
-- of its own: the newest look's rows are shown, and older ones say what was known then.
CREATE TABLE site_balances (
  id uuid NOT NULL,
  run_id uuid NOT NULL,
  site_id uuid NOT NULL,
  gas_id text NOT NULL,
  weeks jsonb NOT NULL,
  CONSTRAINT site_balances_pkey PRIMARY KEY (id),
  CONSTRAINT site_balances_run_id_fkey FOREIGN KEY (run_id) REFERENCES audit_runs (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT site_balances_site_id_fkey FOREIGN KEY (site_id) REFERENCES sites (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT site_balances_gas_id_fkey FOREIGN KEY (gas_id) REFERENCES gases (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT site_balances_weeks CHECK (jsonb_typeof(weeks) = 'array')
);
CREATE UNIQUE INDEX site_balances_run_site_gas ON site_balances (run_id, site_id, gas_id);
CREATE TRIGGER append_only BEFORE UPDATE ON site_balances FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON site_balances FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON site_balances FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
REVOKE ALL ON site_balances FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON site_balances TO kerfwatch_runtime;
  END IF;
END $$;
