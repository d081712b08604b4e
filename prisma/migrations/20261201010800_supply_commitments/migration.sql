-- Moves by own truck and returns of empties that somebody confirmed: the plan is made around them until they are done,
-- taken back or past. Orders have a table of their own.
CREATE TABLE supply_commitments (
  id uuid NOT NULL,
  kind text NOT NULL,
  site_id uuid NOT NULL,
  to_site_id uuid,
  due_on date NOT NULL,
  with_papers boolean NOT NULL DEFAULT false,
  lines jsonb NOT NULL,
  state text NOT NULL DEFAULT 'planned',
  confirmed_by uuid NOT NULL,
  role_then text NOT NULL,
  confirmed_at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  version integer NOT NULL DEFAULT 0,
  CONSTRAINT supply_commitments_pkey PRIMARY KEY (id),
  CONSTRAINT supply_commitments_kind CHECK (kind IN ('move', 'return')),
  CONSTRAINT supply_commitments_to CHECK ((kind = 'move') = (to_site_id IS NOT NULL) AND to_site_id IS DISTINCT FROM site_id),
  CONSTRAINT supply_commitments_state CHECK (state IN ('planned', 'done', 'cancelled')),
  CONSTRAINT supply_commitments_lines CHECK (jsonb_typeof(lines) = 'array' AND jsonb_array_length(lines) BETWEEN 1 AND 40)
);
ALTER TABLE supply_commitments ADD CONSTRAINT supply_commitments_site_id_fkey FOREIGN KEY (site_id) REFERENCES sites(id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE supply_commitments ADD CONSTRAINT supply_commitments_to_site_id_fkey FOREIGN KEY (to_site_id) REFERENCES sites(id) ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX supply_commitments_site_id_due_on_idx ON supply_commitments (site_id, due_on) WHERE state = 'planned';
CREATE INDEX supply_commitments_to_site_id_due_on_idx ON supply_commitments (to_site_id, due_on) WHERE state = 'planned';

-- What was confirmed is not confirmed otherwise afterwards: it is done or taken back, once.
CREATE FUNCTION kerf_commitment_ends() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.state <> 'planned' OR NEW.state = 'planned' THEN PERFORM kerf_refuse('CONFLICT'); END IF;
  NEW.version := OLD.version + 1;
  RETURN NEW;
END $$;
CREATE TRIGGER stamp BEFORE INSERT ON supply_commitments FOR EACH ROW EXECUTE FUNCTION kerf_stamp('confirmed_at');
CREATE TRIGGER ends_once BEFORE UPDATE ON supply_commitments FOR EACH ROW EXECUTE FUNCTION kerf_commitment_ends();
CREATE TRIGGER never_deleted BEFORE DELETE ON supply_commitments FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON supply_commitments FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON supply_commitments DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id,to_site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF state ON supply_commitments DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id,to_site_id', 'id');

-- Order sheets that were sent by e-mail: to whom, and what stood on them.
CREATE TABLE sheets_sent (
  id uuid NOT NULL,
  supplier_id uuid NOT NULL,
  sent_to text NOT NULL,
  order_ids uuid[] NOT NULL,
  person_id uuid NOT NULL,
  role_then text NOT NULL,
  at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  CONSTRAINT sheets_sent_pkey PRIMARY KEY (id),
  CONSTRAINT sheets_sent_orders CHECK (cardinality(order_ids) BETWEEN 1 AND 100)
);
ALTER TABLE sheets_sent ADD CONSTRAINT sheets_sent_supplier_id_fkey FOREIGN KEY (supplier_id) REFERENCES suppliers(id) ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX sheets_sent_supplier_id_at_idx ON sheets_sent (supplier_id, at);
CREATE TRIGGER stamp BEFORE INSERT ON sheets_sent FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE TRIGGER append_only BEFORE UPDATE ON sheets_sent FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON sheets_sent FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON sheets_sent FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON sheets_sent DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('company', 'supplier_id');

REVOKE ALL ON supply_commitments, sheets_sent FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON supply_commitments, sheets_sent TO kerfwatch_runtime;
    GRANT UPDATE (state) ON supply_commitments TO kerfwatch_runtime;
  END IF;
END $$;
