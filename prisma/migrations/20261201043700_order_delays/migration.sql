-- A supplier's word that a confirmed order comes later: who took it down, from which day to which, and why. The order's
-- day follows from it and is changed by nothing else, so that the next plan is drawn from the new day.
CREATE TABLE order_delays (
  id uuid NOT NULL,
  site_id uuid NOT NULL,
  order_id uuid NOT NULL,
  days integer NOT NULL,
  was_on date NOT NULL,
  due_on date NOT NULL,
  reason text NOT NULL,
  person_id uuid NOT NULL,
  role_then text NOT NULL,
  at timestamptz(3) NOT NULL DEFAULT kerf_now(),
  CONSTRAINT order_delays_pkey PRIMARY KEY (id),
  CONSTRAINT order_delays_days CHECK (days BETWEEN 1 AND 60 AND due_on = was_on + days),
  CONSTRAINT order_delays_reason CHECK (length(btrim(reason)) BETWEEN 1 AND 200)
);
ALTER TABLE order_delays ADD CONSTRAINT order_delays_order_id_fkey FOREIGN KEY (order_id) REFERENCES orders(id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE order_delays ADD CONSTRAINT order_delays_person FOREIGN KEY (person_id) REFERENCES people(id);
ALTER TABLE order_delays ADD CONSTRAINT order_delays_site FOREIGN KEY (site_id) REFERENCES sites(id);
CREATE INDEX order_delays_order_id_at_idx ON order_delays (order_id, at);

CREATE FUNCTION kerf_order_delayed() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  o orders;
BEGIN
  SELECT * INTO o FROM orders WHERE id = NEW.order_id FOR UPDATE;
  IF NOT FOUND THEN PERFORM kerf_refuse('NOT_FOUND'); END IF;
  IF o.state <> 'confirmed' THEN PERFORM kerf_refuse('ORDER_OVER', jsonb_build_object('state', o.state)); END IF;
  NEW.site_id := o.site_id;
  NEW.was_on := o.due_on;
  NEW.due_on := o.due_on + NEW.days;
  UPDATE orders SET due_on = NEW.due_on, version = o.version + 1 WHERE id = o.id;
  RETURN NEW;
END $$;
CREATE TRIGGER stamp BEFORE INSERT ON order_delays FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE TRIGGER delays_order BEFORE INSERT ON order_delays FOR EACH ROW EXECUTE FUNCTION kerf_order_delayed();
CREATE TRIGGER append_only BEFORE UPDATE ON order_delays FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON order_delays FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON order_delays FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON order_delays DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'order_id');

REVOKE ALL ON order_delays FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON order_delays TO kerfwatch_runtime;
    REVOKE UPDATE (due_on) ON orders FROM kerfwatch_runtime;
  END IF;
END $$;
