-- What each job used beside what was expected, as the last look through the record found it: so that a company's jobs
-- can be put in order, and crews learned from, without reading every reading again. Worked out from the record, so no
-- fact of its own: each look writes over what the one before found.
CREATE TABLE job_figures (
  job_id uuid NOT NULL,
  side text NOT NULL,
  site_id uuid NOT NULL,
  crew_id uuid,
  run_id uuid NOT NULL,
  gas_id text NOT NULL,
  ended_on date NOT NULL,
  is_done boolean NOT NULL,
  usage_kg double precision NOT NULL,
  usage_u_kg double precision NOT NULL,
  estimate_kg double precision NOT NULL,
  estimate_u_kg double precision NOT NULL,
  table_factor double precision,
  weight_kg double precision NOT NULL,
  deviations double precision NOT NULL,
  distance double precision NOT NULL,
  CONSTRAINT job_figures_pkey PRIMARY KEY (job_id, side),
  CONSTRAINT job_figures_job_id_fkey FOREIGN KEY (job_id) REFERENCES jobs (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT job_figures_site_id_fkey FOREIGN KEY (site_id) REFERENCES sites (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT job_figures_run_id_fkey FOREIGN KEY (run_id) REFERENCES audit_runs (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT job_figures_gas_id_fkey FOREIGN KEY (gas_id) REFERENCES gases (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT job_figures_side CHECK (side IN ('oxygen', 'fuel')),
  CONSTRAINT job_figures_amounts CHECK (usage_kg >= 0 AND usage_u_kg >= 0 AND estimate_kg > 0 AND estimate_u_kg >= 0 AND weight_kg >= 0),
  CONSTRAINT job_figures_distance CHECK (distance = abs(deviations))
);
CREATE INDEX job_figures_distance_idx ON job_figures (side, distance DESC, job_id DESC);
CREATE INDEX job_figures_site_idx ON job_figures (site_id, side, distance DESC, job_id DESC);
CREATE TRIGGER never_deleted BEFORE DELETE ON job_figures FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON job_figures FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
REVOKE ALL ON job_figures FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT, UPDATE ON job_figures TO kerfwatch_runtime;
  END IF;
END $$;
