-- Each time the gas record was looked through, and how far that has come. No fact of the trade: what it
-- found stands in `findings`.
CREATE TABLE audit_runs (
  id uuid NOT NULL,
  asked_at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  asked_by uuid,
  started_at timestamptz(3),
  finished_at timestamptz(3),
  parts integer NOT NULL DEFAULT 0,
  parts_done integer NOT NULL DEFAULT 0,
  failed boolean NOT NULL DEFAULT false,
  found uuid[] NOT NULL DEFAULT '{}',
  CONSTRAINT audit_runs_pkey PRIMARY KEY (id),
  CONSTRAINT audit_runs_asked_by_fkey FOREIGN KEY (asked_by) REFERENCES people (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT audit_runs_parts CHECK (parts_done BETWEEN 0 AND parts)
);
CREATE INDEX audit_runs_asked_at_idx ON audit_runs (asked_at);
-- One looks at a time: who asks while it is waiting or under way gets the same.
CREATE UNIQUE INDEX audit_runs_one_open ON audit_runs ((true)) WHERE finished_at IS NULL;

-- What did not balance and what may explain it: proposed, never applied by itself. Looking again adds a row
-- only where something has changed (`digest`); the matter stays the same (`key`).
CREATE TABLE findings (
  id uuid NOT NULL,
  run_id uuid NOT NULL,
  site_id uuid NOT NULL,
  gas_id text NOT NULL,
  key text NOT NULL,
  digest text NOT NULL,
  found_at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  from_at timestamptz(3) NOT NULL,
  to_at timestamptz(3) NOT NULL,
  kind text NOT NULL,
  danger integer NOT NULL,
  size_kg double precision NOT NULL,
  size_u_kg double precision NOT NULL,
  cost_minor integer,
  chance double precision NOT NULL,
  hypotheses jsonb NOT NULL,
  CONSTRAINT findings_pkey PRIMARY KEY (id),
  CONSTRAINT findings_run_id_fkey FOREIGN KEY (run_id) REFERENCES audit_runs (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT findings_site_id_fkey FOREIGN KEY (site_id) REFERENCES sites (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT findings_gas_id_fkey FOREIGN KEY (gas_id) REFERENCES gases (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT findings_kind CHECK (kind IN ('swap_not_logged', 'wrong_cylinder_logged', 'reading_mistyped', 'work_not_logged', 'leak_idle', 'leak_in_use', 'short_fill', 'boil_off')),
  CONSTRAINT findings_chance CHECK (chance BETWEEN 0 AND 1),
  CONSTRAINT findings_hypotheses CHECK (jsonb_typeof(hypotheses) = 'array' AND jsonb_array_length(hypotheses) BETWEEN 1 AND 12)
);
CREATE UNIQUE INDEX findings_key_digest ON findings (key, digest);
CREATE INDEX findings_site_id_found_at_idx ON findings (site_id, found_at);

-- What a person made of it. Accepting one cause is the correction: it names the entries that it rests on and
-- what it changes in the numbers; the entries themselves stay as they were written.
CREATE TABLE finding_decisions (
  id uuid NOT NULL,
  finding_id uuid NOT NULL,
  site_id uuid NOT NULL,
  at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  person_id uuid NOT NULL,
  role_then text NOT NULL,
  decision text NOT NULL,
  hypothesis integer,
  note text NOT NULL DEFAULT '',
  correction jsonb,
  evidence uuid[] NOT NULL DEFAULT '{}',
  CONSTRAINT finding_decisions_pkey PRIMARY KEY (id),
  CONSTRAINT finding_decisions_finding_id_fkey FOREIGN KEY (finding_id) REFERENCES findings (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT finding_decisions_site_id_fkey FOREIGN KEY (site_id) REFERENCES sites (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT finding_decisions_person_id_fkey FOREIGN KEY (person_id) REFERENCES people (id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT finding_decisions_decision CHECK (decision IN ('looking', 'accepted', 'rejected', 'withdrawn')),
  CONSTRAINT finding_decisions_accepted CHECK ((decision = 'accepted') = (correction IS NOT NULL AND hypothesis IS NOT NULL)),
  CONSTRAINT finding_decisions_evidence CHECK ((decision = 'accepted') = (cardinality(evidence) > 0)),
  CONSTRAINT finding_decisions_note CHECK (decision = 'looking' OR length(trim(note)) > 0)
);
CREATE INDEX finding_decisions_finding_id_at_idx ON finding_decisions (finding_id, at);
CREATE INDEX finding_decisions_site_id_at_idx ON finding_decisions (site_id, at);

-- The matter is locked by its key, so that of two who decide at once the second sees the first.
CREATE FUNCTION kerf_finding_decision() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  f findings%ROWTYPE;
  before text;
BEGIN
  SELECT * INTO f FROM findings WHERE id = NEW.finding_id;
  IF f.id IS NULL THEN PERFORM kerf_refuse('FINDING_UNKNOWN'); END IF;
  PERFORM pg_advisory_xact_lock(hashtextextended('kerf finding ' || f.key, 0));
  NEW.at := kerf_now(); NEW.site_id := f.site_id;
  SELECT d.decision INTO before FROM finding_decisions d JOIN findings x ON x.id = d.finding_id
    WHERE x.key = f.key ORDER BY d.at DESC, d.id DESC LIMIT 1;
  IF NEW.decision = 'withdrawn' THEN
    IF before IS DISTINCT FROM 'accepted' THEN PERFORM kerf_refuse('FINDING_NOT_ACCEPTED'); END IF;
  ELSIF before = 'accepted' THEN
    PERFORM kerf_refuse('FINDING_ACCEPTED');
  END IF;
  IF NEW.decision = 'accepted' THEN
    IF NEW.hypothesis NOT BETWEEN 0 AND jsonb_array_length(f.hypotheses) - 1
       OR NEW.correction ->> 'kind' IS DISTINCT FROM f.hypotheses -> NEW.hypothesis ->> 'kind' THEN
      PERFORM kerf_refuse('CAUSE_UNKNOWN');
    END IF;
    IF EXISTS (SELECT 1 FROM unnest(NEW.evidence) AS named (id) WHERE NOT EXISTS (SELECT 1 FROM cylinder_events e WHERE e.id = named.id))
       OR EXISTS (SELECT 1 FROM jsonb_path_query(NEW.correction, '$.*[*].eventId') AS moved (id) WHERE NOT (moved.id #>> '{}')::uuid = ANY (NEW.evidence)) THEN
      PERFORM kerf_refuse('EVIDENCE_UNKNOWN');
    END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER finding_decision BEFORE INSERT ON finding_decisions FOR EACH ROW EXECUTE FUNCTION kerf_finding_decision();
CREATE TRIGGER stamp BEFORE INSERT ON findings FOR EACH ROW EXECUTE FUNCTION kerf_stamp('found_at');
CREATE TRIGGER stamp BEFORE INSERT ON audit_runs FOR EACH ROW EXECUTE FUNCTION kerf_stamp('asked_at');

-- Where each matter stands: its last decision.
CREATE VIEW finding_standings AS
  SELECT DISTINCT ON (f.key) f.key, d.id, d.finding_id, d.site_id, d.at, d.person_id, d.decision, d.hypothesis, d.note, d.correction
  FROM finding_decisions d JOIN findings f ON f.id = d.finding_id
  ORDER BY f.key, d.at DESC, d.id DESC;

DO $$
DECLARE
  has_runtime boolean := EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime');
  fact text;
BEGIN
  FOREACH fact IN ARRAY ARRAY['findings', 'finding_decisions'] LOOP
    EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
  END LOOP;
  FOREACH fact IN ARRAY ARRAY['audit_runs', 'findings', 'finding_decisions'] LOOP
    EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', fact);
    EXECUTE format('REVOKE ALL ON %I FROM PUBLIC', fact);
    IF has_runtime THEN EXECUTE format('GRANT SELECT, INSERT ON %I TO kerfwatch_runtime', fact); END IF;
  END LOOP;
  REVOKE ALL ON finding_standings FROM PUBLIC;
  IF has_runtime THEN
    GRANT SELECT ON finding_standings TO kerfwatch_runtime;
    GRANT UPDATE (started_at, finished_at, parts, parts_done, failed, found) ON audit_runs TO kerfwatch_runtime;
  END IF;
END $$;
REVOKE ALL ON FUNCTION kerf_finding_decision() FROM PUBLIC;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON findings DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON finding_decisions DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'finding_id');
CREATE TRIGGER wake AFTER INSERT ON finding_decisions FOR EACH ROW EXECUTE FUNCTION kerf_notify('finding_id');
