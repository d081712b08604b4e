-- A shop's own tip charts, kept at the site that entered them; every site may use them. A chart is a fact: another edition is a new chart that names the one it
-- takes over from, so that an estimate kept under the old one still says what it rested on.
CREATE TABLE "tip_charts" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "fuel_gas_id" TEXT NOT NULL,
    "materials" JSONB NOT NULL,
    "rows" JSONB NOT NULL,
    "replaces_id" UUID,
    "created_by" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "retired_at" TIMESTAMPTZ(3),

    CONSTRAINT "tip_charts_pkey" PRIMARY KEY ("id"),
    CONSTRAINT tip_charts_title CHECK (length(trim(title)) BETWEEN 1 AND 80),
    CONSTRAINT tip_charts_source CHECK (length(trim(source)) > 0),
    CONSTRAINT tip_charts_materials CHECK (jsonb_typeof(materials) = 'array' AND jsonb_array_length(materials) > 0),
    CONSTRAINT tip_charts_rows CHECK (jsonb_typeof(rows) = 'array' AND jsonb_array_length(rows) BETWEEN 2 AND 60)
);
ALTER TABLE "tip_charts" ADD CONSTRAINT "tip_charts_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "tip_charts" ADD CONSTRAINT "tip_charts_fuel_gas_id_fkey" FOREIGN KEY ("fuel_gas_id") REFERENCES "gases"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "tip_charts" ADD CONSTRAINT "tip_charts_replaces_id_fkey" FOREIGN KEY ("replaces_id") REFERENCES "tip_charts"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE UNIQUE INDEX "tip_charts_replaces_id_key" ON "tip_charts"("replaces_id");

-- Which chart an outfit's tips are set by; none is the built-in table.
ALTER TABLE "outfits" ADD COLUMN "tip_chart_id" UUID;
ALTER TABLE "outfits" ADD CONSTRAINT "outfits_tip_chart_id_fkey" FOREIGN KEY ("tip_chart_id") REFERENCES "tip_charts"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- Only being taken out of use is written later, once, with the database's own time.
CREATE FUNCTION kerf_chart_change() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.retired_at IS NOT NULL THEN
    PERFORM kerf_refuse('CHART_RETIRED', jsonb_build_object('chart', OLD.title));
  END IF;
  NEW.retired_at := kerf_now();
  IF to_jsonb(NEW) - 'retired_at' IS DISTINCT FROM to_jsonb(OLD) - 'retired_at' THEN
    PERFORM kerf_refuse('APPEND_ONLY', jsonb_build_object('table', TG_TABLE_NAME, 'op', TG_OP), 'KW002');
  END IF;
  UPDATE outfits SET tip_chart_id = NULL WHERE tip_chart_id = OLD.id;
  RETURN NEW;
END $$;
CREATE TRIGGER chart_change BEFORE UPDATE ON tip_charts FOR EACH ROW EXECUTE FUNCTION kerf_chart_change();
CREATE TRIGGER never_deleted BEFORE DELETE ON tip_charts FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON tip_charts FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();

-- An outfit takes only a chart that is in use and is for its own fuel. The chart's row is locked, so
-- that it can't be taken out of use meanwhile.
CREATE FUNCTION kerf_outfit_chart() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  chart record;
BEGIN
  SELECT title, fuel_gas_id, retired_at INTO chart FROM tip_charts WHERE id = NEW.tip_chart_id FOR SHARE;
  IF chart.retired_at IS NOT NULL THEN
    PERFORM kerf_refuse('CHART_RETIRED', jsonb_build_object('chart', chart.title));
  END IF;
  IF chart.fuel_gas_id IS DISTINCT FROM NEW.fuel_gas_id THEN
    PERFORM kerf_refuse('CHART_OTHER_FUEL', jsonb_build_object('chart', chart.title));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER outfit_chart BEFORE INSERT OR UPDATE OF tip_chart_id ON outfits FOR EACH ROW
  WHEN (NEW.tip_chart_id IS NOT NULL) EXECUTE FUNCTION kerf_outfit_chart();

REVOKE ALL ON tip_charts FROM PUBLIC;
REVOKE ALL ON FUNCTION kerf_chart_change(), kerf_outfit_chart() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON tip_charts TO kerfwatch_runtime;
    GRANT UPDATE (retired_at) ON tip_charts TO kerfwatch_runtime;
    GRANT UPDATE (tip_chart_id) ON outfits TO kerfwatch_runtime;
  END IF;
END $$;
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON tip_charts DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF retired_at ON tip_charts DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
CREATE CONSTRAINT TRIGGER audit_chart AFTER UPDATE OF tip_chart_id ON outfits DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'id');
