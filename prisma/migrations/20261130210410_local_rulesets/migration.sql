-- Rulesets that an administrator typed in: changed parameters and known precautions under a citation.
-- An edition is a fact. Sites take one on by its name, as they do a published one; which edition
-- holds on a day follows from its first and last day.
CREATE TABLE "local_rulesets" (
    "id" UUID NOT NULL,
    "ruleset_id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "label" TEXT NOT NULL,
    "citation" TEXT NOT NULL,
    "edition" TEXT NOT NULL,
    "provenance" TEXT NOT NULL,
    "effective_from" DATE NOT NULL,
    "effective_to" DATE,
    "params" JSONB NOT NULL,
    "precautions" JSONB NOT NULL,
    "added_by" UUID NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "local_rulesets_pkey" PRIMARY KEY ("id"),
    CONSTRAINT local_rulesets_name CHECK (ruleset_id ~ '^local:[a-z0-9-]{2,40}$'),
    CONSTRAINT local_rulesets_version CHECK (version >= 1),
    CONSTRAINT local_rulesets_said CHECK (length(trim(label)) > 0 AND length(trim(citation)) > 0 AND length(trim(edition)) > 0),
    CONSTRAINT local_rulesets_provenance CHECK (provenance IN ('read', 'memory')),
    CONSTRAINT local_rulesets_days CHECK (effective_to IS NULL OR effective_to >= effective_from),
    CONSTRAINT local_rulesets_asks CHECK (jsonb_typeof(params) = 'object' AND jsonb_typeof(precautions) = 'array')
);
CREATE UNIQUE INDEX "local_rulesets_ruleset_id_version_key" ON "local_rulesets"("ruleset_id", "version");
CREATE UNIQUE INDEX "local_rulesets_ruleset_id_effective_from_key" ON "local_rulesets"("ruleset_id", "effective_from");

CREATE TRIGGER append_only BEFORE UPDATE ON local_rulesets FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_deleted BEFORE DELETE ON local_rulesets FOR EACH ROW EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER never_emptied BEFORE TRUNCATE ON local_rulesets FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only();
CREATE TRIGGER stamp BEFORE INSERT ON local_rulesets FOR EACH ROW EXECUTE FUNCTION kerf_stamp('added_at');
CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON local_rulesets DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('company', 'id');

-- A site takes on a ruleset once at a time, and a typed-in one only when it is there.
CREATE FUNCTION kerf_site_ruleset() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM 1 FROM sites s WHERE s.id = NEW.site_id FOR NO KEY UPDATE;
  IF EXISTS (SELECT 1 FROM site_rulesets r WHERE r.site_id = NEW.site_id AND r.ruleset_id = NEW.ruleset_id AND r.to_at IS NULL) THEN
    PERFORM kerf_refuse('RULESET_IN_FORCE', jsonb_build_object('ruleset', NEW.ruleset_id));
  END IF;
  IF NEW.ruleset_id LIKE 'local:%' AND NOT EXISTS (SELECT 1 FROM local_rulesets l WHERE l.ruleset_id = NEW.ruleset_id) THEN
    PERFORM kerf_refuse('RULESET_UNKNOWN', jsonb_build_object('ruleset', NEW.ruleset_id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER site_ruleset BEFORE INSERT ON site_rulesets FOR EACH ROW EXECUTE FUNCTION kerf_site_ruleset();

REVOKE ALL ON local_rulesets FROM PUBLIC;
REVOKE ALL ON FUNCTION kerf_site_ruleset() FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT, INSERT ON local_rulesets TO kerfwatch_runtime;
  END IF;
END $$;
