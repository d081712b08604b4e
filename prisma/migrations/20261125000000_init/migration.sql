-- The whole database of one company. The tables are what prisma/schema.prisma says; all else is
-- written by hand: the rules that may never be broken are held here, not in the app.
--
-- Two roles. The owner migrates, seeds and benchmarks. kerfwatch_runtime, the app, inserts facts;
-- triggers that belong to the owner check each fact and move the state. The runtime role cannot
-- write a state column, change or delete a fact, TRUNCATE, or touch a trigger or a function.

CREATE EXTENSION IF NOT EXISTS btree_gist;

-- ── Time and codes ────────────────────────────────────────────────────────────

-- The only clock. Whole milliseconds, as the columns store them; floored, so that no stored time
-- lies in the future. /api/ready compares this body with the shipped one (lib/data/kerf-now.ts).
CREATE FUNCTION kerf_now() RETURNS timestamptz LANGUAGE sql VOLATILE AS $$SELECT date_trunc('milliseconds', clock_timestamp())$$;

-- Twelve characters of an alphabet of 32 without look-alikes: 60 random bits.
CREATE FUNCTION kerf_stop_code() RETURNS text LANGUAGE sql VOLATILE SET search_path = pg_catalog, pg_temp AS $$
  SELECT string_agg(substr('abcdefghjkmnpqrstuvwxyz023456789', 1 + get_byte(bits, i) % 32, 1), '')
  FROM (SELECT sha256(uuid_send(gen_random_uuid()) || uuid_send(gen_random_uuid())) AS bits) AS random,
       generate_series(0, 11) AS i
$$;

CREATE FUNCTION kerf_ms(at timestamptz) RETURNS bigint LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT round(extract(epoch FROM at) * 1000)::bigint
$$;

CREATE FUNCTION kerf_minutes(minutes numeric) RETURNS interval LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT make_interval(secs => (minutes * 60)::double precision)
$$;

-- ── Refusals ──────────────────────────────────────────────────────────────────

-- One reason as data. lib/data/refusals.ts reads them from DETAIL; words stand in messages/en.json.
CREATE FUNCTION kerf_reason(code text, params jsonb DEFAULT '{}') RETURNS jsonb LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT jsonb_build_array(jsonb_build_object('code', code, 'params', params))
$$;

-- Refuses when there is a reason, with every reason at once.
CREATE FUNCTION kerf_refuse_all(reasons jsonb, state text DEFAULT 'KW001') RETURNS void LANGUAGE plpgsql SET search_path = pg_catalog, pg_temp AS $$
BEGIN
  IF jsonb_array_length(reasons) = 0 THEN RETURN; END IF;
  RAISE EXCEPTION 'refused: %', (SELECT string_agg(r ->> 'code', ', ') FROM jsonb_array_elements(reasons) AS r)
    USING ERRCODE = state,
          DETAIL = jsonb_build_object('code', reasons -> 0 ->> 'code', 'params', reasons -> 0 -> 'params', 'reasons', reasons)::text;
END $$;

CREATE FUNCTION kerf_refuse(code text, params jsonb DEFAULT '{}', state text DEFAULT 'KW001') RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT kerf_refuse_all(kerf_reason(code, params), state)
$$;

-- For facts: nobody changes or removes one, the owner included.
CREATE FUNCTION kerf_append_only() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM kerf_refuse('APPEND_ONLY', jsonb_build_object('table', TG_TABLE_NAME, 'op', TG_OP), 'KW002');
  RETURN NULL;
END $$;

-- Sets a column to the database's clock, whatever the app sent.
CREATE FUNCTION kerf_stamp() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  RETURN jsonb_populate_record(NEW, jsonb_build_object(TG_ARGV[0], kerf_now()));
END $$;

-- ── Tables ────────────────────────────────────────────────────────────────────


-- CreateTable
CREATE TABLE "company" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "is_demo" BOOLEAN NOT NULL DEFAULT false,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "company_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "people" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "pin_hash" TEXT,
    "disabled_at" TIMESTAMPTZ(3),
    "session_epoch" INTEGER NOT NULL DEFAULT 0,
    "units" TEXT NOT NULL DEFAULT 'us',
    "clock" TEXT NOT NULL DEFAULT '24',
    "theme" TEXT NOT NULL DEFAULT 'device',
    "phone" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "people_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "grants" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "granted_by" UUID,
    "granted_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "grants_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "qualifications" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "valid_from" DATE NOT NULL,
    "valid_until" DATE NOT NULL,
    "evidence" TEXT NOT NULL,
    "recorded_by" UUID,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "qualifications_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sites" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "short_name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "address" TEXT NOT NULL,
    "emergency_words" TEXT NOT NULL,
    "shift_ends" TEXT NOT NULL DEFAULT '16:30',
    "delivery_days" INTEGER[] DEFAULT ARRAY[]::INTEGER[],
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "sites_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "areas" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "area_class" TEXT NOT NULL,
    "view_id" UUID,
    "facts" JSONB NOT NULL,
    "posts" JSONB NOT NULL,
    "designated_looked_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "areas_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "crews" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "crews_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "crew_members" (
    "id" UUID NOT NULL,
    "crew_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "from_date" DATE NOT NULL,
    "to_date" DATE,

    CONSTRAINT "crew_members_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "jobs" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "crew_id" UUID,
    "number" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "planned_start" DATE NOT NULL,
    "planned_end" DATE NOT NULL,
    "chance_to_run" DOUBLE PRECISION NOT NULL DEFAULT 1,
    "state" TEXT NOT NULL DEFAULT 'planned',
    "done_at" TIMESTAMPTZ(3),
    "last_permit_no" INTEGER NOT NULL DEFAULT 0,
    "created_by" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "jobs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cut_lists" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "fuel" TEXT NOT NULL,
    "process" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "cut_lists_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cuts" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "cut_list_id" UUID NOT NULL,
    "ordinal" INTEGER NOT NULL,
    "title" TEXT NOT NULL,
    "material" TEXT NOT NULL,
    "coating" TEXT NOT NULL DEFAULT 'none',
    "shape" TEXT NOT NULL,
    "dims" JSONB NOT NULL,
    "position" TEXT NOT NULL DEFAULT 'flat',
    "count" INTEGER NOT NULL,
    "done_count" INTEGER NOT NULL DEFAULT 0,
    "piece_kg" DOUBLE PRECISION,
    "note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "cuts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "estimates" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "cut_list_id" UUID NOT NULL,
    "permit_id" UUID,
    "reason" TEXT NOT NULL,
    "calc_version" TEXT NOT NULL,
    "inputs" JSONB NOT NULL,
    "result" JSONB NOT NULL,
    "sources" JSONB NOT NULL,
    "oxygen_kg" DOUBLE PRECISION NOT NULL,
    "oxygen_u_kg" DOUBLE PRECISION NOT NULL,
    "fuel" TEXT NOT NULL,
    "fuel_kg" DOUBLE PRECISION NOT NULL,
    "fuel_u_kg" DOUBLE PRECISION NOT NULL,
    "kept_by" UUID NOT NULL,
    "kept_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "estimates_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "gases" (
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "side" TEXT NOT NULL,

    CONSTRAINT "gases_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cylinder_sizes" (
    "id" TEXT NOT NULL,
    "gas_id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "nominal_kg" DOUBLE PRECISION NOT NULL,
    "water_volume_l" DOUBLE PRECISION,
    "full_gauge_kpa" DOUBLE PRECISION,
    "tare_kg" DOUBLE PRECISION,
    "gross_kg" DOUBLE PRECISION,
    "heel_kg" DOUBLE PRECISION NOT NULL,
    "change_at_gauge_kpa" DOUBLE PRECISION,
    "source" TEXT NOT NULL,

    CONSTRAINT "cylinder_sizes_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cylinders" (
    "id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "gas_id" TEXT NOT NULL,
    "size_id" TEXT NOT NULL,
    "spec" TEXT NOT NULL,
    "tare_kg" DOUBLE PRECISION,
    "ownership" TEXT NOT NULL DEFAULT 'rented',
    "supplier_id" UUID,
    "requalified_on" DATE,
    "due_month" DATE,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "site_id" UUID,
    "area_id" UUID,
    "outfit_id" UUID,
    "side" TEXT,
    "place" INTEGER,
    "status" TEXT NOT NULL DEFAULT 'new',
    "contents_kg" DOUBLE PRECISION,
    "contents_u_kg" DOUBLE PRECISION,
    "last_reading_at" TIMESTAMPTZ(3),
    "filled_on" DATE,
    "arrived_at" TIMESTAMPTZ(3),
    "last_seq" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "cylinders_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cylinder_events" (
    "id" UUID NOT NULL,
    "cylinder_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL DEFAULT 0,
    "kind" TEXT NOT NULL,
    "site_id" UUID NOT NULL,
    "to_site_id" UUID,
    "area_id" UUID,
    "outfit_id" UUID,
    "side" TEXT,
    "place" INTEGER,
    "job_id" UUID,
    "permit_id" UUID,
    "swap_id" UUID,
    "delivery_id" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "gauge_kpa" DOUBLE PRECISION,
    "weight_kg" DOUBLE PRECISION,
    "temperature_k" DOUBLE PRECISION,
    "contents_kg" DOUBLE PRECISION,
    "contents_u_kg" DOUBLE PRECISION,
    "marked_empty" BOOLEAN NOT NULL DEFAULT false,
    "filled_on" DATE,
    "requalified_on" DATE,
    "due_month" DATE,
    "reason" TEXT,
    "corrects_id" UUID,

    CONSTRAINT "cylinder_events_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "swaps" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "outfit_id" UUID NOT NULL,
    "side" TEXT NOT NULL,
    "off_cylinder_id" UUID,
    "on_cylinder_id" UUID NOT NULL,
    "job_id" UUID,
    "permit_id" UUID,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "shut_and_bled" BOOLEAN NOT NULL,
    "leak_tested" BOOLEAN NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "swaps_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "outfits" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "crew_id" UUID,
    "number" TEXT NOT NULL,
    "fuel_gas_id" TEXT NOT NULL,
    "oxygen_places" INTEGER NOT NULL DEFAULT 1,
    "fuel_places" INTEGER NOT NULL DEFAULT 1,
    "state" TEXT NOT NULL DEFAULT 'in_service',
    "state_reason" TEXT,

    CONSTRAINT "outfits_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "outfit_parts" (
    "id" UUID NOT NULL,
    "outfit_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "serial" TEXT,
    "orifice_m" DOUBLE PRECISION,
    "shop_tip" TEXT,
    "hose_grade" TEXT,
    "length_m" DOUBLE PRECISION,
    "bore_m" DOUBLE PRECISION,
    "checked_on" DATE,

    CONSTRAINT "outfit_parts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "outfit_events" (
    "id" UUID NOT NULL,
    "outfit_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "reason" TEXT,
    "data" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "outfit_events_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "suppliers" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "lead_days" INTEGER NOT NULL,
    "order_email" TEXT,
    "delivery_fee_minor" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "suppliers_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "prices" (
    "id" UUID NOT NULL,
    "supplier_id" UUID NOT NULL,
    "size_id" TEXT NOT NULL,
    "fill_minor" INTEGER NOT NULL,
    "rent_minor_per_day" INTEGER NOT NULL,
    "currency" TEXT NOT NULL,
    "valid_from" DATE NOT NULL,
    "valid_until" DATE,

    CONSTRAINT "prices_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "orders" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "supplier_id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'confirmed',
    "due_on" DATE NOT NULL,
    "reason" JSONB NOT NULL,
    "confirmed_by" UUID NOT NULL,
    "confirmed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "orders_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "order_lines" (
    "id" UUID NOT NULL,
    "order_id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "size_id" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "fill_minor" INTEGER NOT NULL,

    CONSTRAINT "order_lines_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "deliveries" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "order_id" UUID,
    "supplier_id" UUID NOT NULL,
    "note" TEXT,
    "received_by" UUID NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "deliveries_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "permits" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "area_id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "cut_list_id" UUID,
    "outfit_id" UUID,
    "number" INTEGER NOT NULL DEFAULT 0,
    "process" TEXT NOT NULL DEFAULT 'oxyfuel_cutting',
    "what" TEXT NOT NULL,
    "where_words" TEXT NOT NULL,
    "cold_answer" JSONB NOT NULL,
    "host_permit" TEXT,
    "entry_permit" TEXT,
    "isolation" JSONB,
    "planned_from" TIMESTAMPTZ(3) NOT NULL,
    "planned_until" TIMESTAMPTZ(3) NOT NULL,
    "operator_id" UUID NOT NULL,
    "fire_watch_id" UUID,
    "prepared_by" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "stop_code" TEXT NOT NULL DEFAULT kerf_stop_code(),
    "state" TEXT NOT NULL DEFAULT 'preparing',
    "state_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "survey_no" INTEGER NOT NULL DEFAULT 1,
    "cleared_at" TIMESTAMPTZ(3),
    "issued_at" TIMESTAMPTZ(3),
    "issued_by" UUID,
    "valid_until" TIMESTAMPTZ(3),
    "last_cut_by" TIMESTAMPTZ(3),
    "torch_out_at" TIMESTAMPTZ(3),
    "held_at" TIMESTAMPTZ(3),
    "hold_reason" TEXT,
    "stop_pressed_at" TIMESTAMPTZ(3),
    "stopped_at" TIMESTAMPTZ(3),
    "expired_at" TIMESTAMPTZ(3),
    "watch_at" TIMESTAMPTZ(3),
    "closed_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),
    "watch_required" BOOLEAN,
    "watch_minutes" INTEGER,
    "round_interval_min" INTEGER,
    "monitoring_minutes" INTEGER,
    "final_look_minutes" INTEGER,
    "statement_required" BOOLEAN,
    "gas_test_required" BOOLEAN,
    "gas_test_valid_min" INTEGER,
    "frozen" JSONB,
    "last_event_seq" INTEGER NOT NULL DEFAULT 0,
    "version" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "permits_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "clearance_answers" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "survey_no" INTEGER NOT NULL,
    "item" TEXT NOT NULL,
    "answer" JSONB NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "clearance_answers_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "gas_tests" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "oxygen_pct" DOUBLE PRECISION NOT NULL,
    "lel_pct" DOUBLE PRECISION NOT NULL,
    "co_ppm" DOUBLE PRECISION,
    "h2s_ppm" DOUBLE PRECISION,
    "instrument" TEXT NOT NULL,
    "bump_tested_on" DATE NOT NULL,
    "calibrated_until" DATE NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "gas_tests_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "signatures" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "act" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "survey_no" INTEGER NOT NULL,
    "on_site" BOOLEAN NOT NULL DEFAULT true,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "signatures_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "stints" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "slot" TEXT NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "to_at" TIMESTAMPTZ(3),

    CONSTRAINT "stints_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "permit_open_spans" (
    "id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "to_at" TIMESTAMPTZ(3),

    CONSTRAINT "permit_open_spans_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "rounds" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "posts" JSONB NOT NULL,
    "worst" TEXT NOT NULL,
    "note" TEXT,
    "due_at" TIMESTAMPTZ(3),
    "late_ms" INTEGER NOT NULL DEFAULT 0,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),

    CONSTRAINT "rounds_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "permit_events" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "permit_id" UUID NOT NULL,
    "seq" INTEGER NOT NULL DEFAULT 0,
    "kind" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),
    "person_id" UUID,
    "role_then" TEXT NOT NULL,
    "subject_id" UUID,
    "data" JSONB NOT NULL DEFAULT '{}',
    "corrects_id" UUID,

    CONSTRAINT "permit_events_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "hot_work_logs" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "job_id" UUID NOT NULL,
    "area_id" UUID NOT NULL,
    "permit_id" UUID,
    "operator_id" UUID NOT NULL,
    "outfit_id" UUID,
    "cut_id" UUID,
    "pieces" INTEGER NOT NULL DEFAULT 0,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "to_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "device_at" TIMESTAMPTZ(3),
    "late" BOOLEAN NOT NULL DEFAULT false,
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "note" TEXT,
    "corrects_id" UUID,

    CONSTRAINT "hot_work_logs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "work_outside_permit" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "area_id" UUID NOT NULL,
    "job_id" UUID,
    "permit_id" UUID,
    "operator_id" UUID NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "to_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "person_id" UUID NOT NULL,
    "role_then" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "why" TEXT NOT NULL,

    CONSTRAINT "work_outside_permit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "notices" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "subject_id" UUID,
    "data" JSONB NOT NULL DEFAULT '{}',
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "seen_at" TIMESTAMPTZ(3),
    "dedupe" TEXT NOT NULL,

    CONSTRAINT "notices_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "site_rulesets" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "ruleset_id" TEXT NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "to_at" TIMESTAMPTZ(3),
    "added_by" UUID,

    CONSTRAINT "site_rulesets_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "company_layers" (
    "id" UUID NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "params" JSONB NOT NULL,
    "citation" TEXT NOT NULL,
    "added_by" UUID,

    CONSTRAINT "company_layers_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "client_keys" (
    "person_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "input_hash" TEXT NOT NULL,
    "result" JSONB,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "client_keys_pkey" PRIMARY KEY ("person_id","key")
);

-- CreateTable
CREATE TABLE "audit_entries" (
    "chain" TEXT NOT NULL,
    "seq" BIGINT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actor_id" UUID,
    "actor_role" TEXT NOT NULL,
    "act" TEXT NOT NULL,
    "table_name" TEXT NOT NULL,
    "subject_id" TEXT NOT NULL,
    "payload" TEXT NOT NULL,
    "prev_hash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "audit_entries_pkey" PRIMARY KEY ("chain","seq")
);

-- CreateTable
CREATE TABLE "chain_checks" (
    "id" UUID NOT NULL,
    "chain" TEXT NOT NULL,
    "checked_at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),
    "last_seq" BIGINT NOT NULL,
    "last_hash" TEXT NOT NULL,
    "ok" BOOLEAN NOT NULL,
    "first_bad_seq" BIGINT,

    CONSTRAINT "chain_checks_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "rate_limits" (
    "key" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "bucket_start" TIMESTAMPTZ(3) NOT NULL,
    "count" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "rate_limits_pkey" PRIMARY KEY ("key","action","bucket_start")
);

-- CreateTable
CREATE TABLE "refused_attempts" (
    "id" UUID NOT NULL,
    "site_id" UUID,
    "person_id" UUID,
    "action" TEXT NOT NULL,
    "subject_id" TEXT,
    "reasons" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT kerf_now(),

    CONSTRAINT "refused_attempts_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "people_email_key" ON "people"("email");

-- CreateIndex
CREATE INDEX "people_name_idx" ON "people"("name");

-- CreateIndex
CREATE INDEX "grants_person_id_idx" ON "grants"("person_id");

-- CreateIndex
CREATE INDEX "grants_site_id_role_idx" ON "grants"("site_id", "role");

-- CreateIndex
CREATE INDEX "qualifications_person_id_kind_valid_until_idx" ON "qualifications"("person_id", "kind", "valid_until");

-- CreateIndex
CREATE UNIQUE INDEX "sites_name_key" ON "sites"("name");

-- CreateIndex
CREATE UNIQUE INDEX "areas_site_id_name_key" ON "areas"("site_id", "name");

-- CreateIndex
CREATE UNIQUE INDEX "crews_name_key" ON "crews"("name");

-- CreateIndex
CREATE INDEX "crew_members_crew_id_idx" ON "crew_members"("crew_id");

-- CreateIndex
CREATE INDEX "crew_members_person_id_idx" ON "crew_members"("person_id");

-- CreateIndex
CREATE UNIQUE INDEX "jobs_number_key" ON "jobs"("number");

-- CreateIndex
CREATE INDEX "jobs_site_id_state_planned_start_idx" ON "jobs"("site_id", "state", "planned_start");

-- CreateIndex
CREATE INDEX "jobs_site_id_created_at_id_idx" ON "jobs"("site_id", "created_at", "id");

-- CreateIndex
CREATE INDEX "cut_lists_job_id_idx" ON "cut_lists"("job_id");

-- CreateIndex
CREATE UNIQUE INDEX "cuts_cut_list_id_ordinal_key" ON "cuts"("cut_list_id", "ordinal");

-- CreateIndex
CREATE INDEX "estimates_job_id_kept_at_idx" ON "estimates"("job_id", "kept_at");

-- CreateIndex
CREATE UNIQUE INDEX "cylinders_serial_key" ON "cylinders"("serial");

-- CreateIndex
CREATE INDEX "cylinders_site_id_gas_id_status_serial_idx" ON "cylinders"("site_id", "gas_id", "status", "serial");

-- CreateIndex
CREATE INDEX "cylinders_site_id_serial_idx" ON "cylinders"("site_id", "serial");

-- CreateIndex
CREATE INDEX "cylinder_events_site_id_at_id_idx" ON "cylinder_events"("site_id", "at", "id");

-- CreateIndex
CREATE INDEX "cylinder_events_job_id_at_idx" ON "cylinder_events"("job_id", "at");

-- CreateIndex
CREATE INDEX "cylinder_events_outfit_id_at_idx" ON "cylinder_events"("outfit_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "cylinder_events_cylinder_id_seq_key" ON "cylinder_events"("cylinder_id", "seq");

-- CreateIndex
CREATE INDEX "swaps_outfit_id_at_idx" ON "swaps"("outfit_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "outfits_number_key" ON "outfits"("number");

-- CreateIndex
CREATE INDEX "outfits_site_id_idx" ON "outfits"("site_id");

-- CreateIndex
CREATE INDEX "outfit_parts_outfit_id_idx" ON "outfit_parts"("outfit_id");

-- CreateIndex
CREATE INDEX "outfit_events_outfit_id_at_idx" ON "outfit_events"("outfit_id", "at");

-- CreateIndex
CREATE UNIQUE INDEX "suppliers_name_key" ON "suppliers"("name");

-- CreateIndex
CREATE INDEX "prices_size_id_valid_from_idx" ON "prices"("size_id", "valid_from");

-- CreateIndex
CREATE UNIQUE INDEX "orders_number_key" ON "orders"("number");

-- CreateIndex
CREATE INDEX "orders_site_id_state_due_on_idx" ON "orders"("site_id", "state", "due_on");

-- CreateIndex
CREATE INDEX "order_lines_order_id_idx" ON "order_lines"("order_id");

-- CreateIndex
CREATE INDEX "deliveries_site_id_received_at_id_idx" ON "deliveries"("site_id", "received_at", "id");

-- CreateIndex
CREATE UNIQUE INDEX "permits_stop_code_key" ON "permits"("stop_code");

-- CreateIndex
CREATE INDEX "permits_site_id_state_state_at_idx" ON "permits"("site_id", "state", "state_at");

-- CreateIndex
CREATE INDEX "permits_site_id_created_at_id_idx" ON "permits"("site_id", "created_at", "id");

-- CreateIndex
CREATE INDEX "permits_operator_id_idx" ON "permits"("operator_id");

-- CreateIndex
CREATE INDEX "permits_fire_watch_id_idx" ON "permits"("fire_watch_id");

-- CreateIndex
CREATE UNIQUE INDEX "permits_job_id_number_key" ON "permits"("job_id", "number");

-- CreateIndex
CREATE INDEX "clearance_answers_permit_id_survey_no_at_idx" ON "clearance_answers"("permit_id", "survey_no", "at");

-- CreateIndex
CREATE INDEX "gas_tests_permit_id_at_idx" ON "gas_tests"("permit_id", "at");

-- CreateIndex
CREATE INDEX "signatures_permit_id_at_idx" ON "signatures"("permit_id", "at");

-- CreateIndex
CREATE INDEX "stints_permit_id_role_from_at_idx" ON "stints"("permit_id", "role", "from_at");

-- CreateIndex
CREATE INDEX "permit_open_spans_permit_id_idx" ON "permit_open_spans"("permit_id");

-- CreateIndex
CREATE INDEX "rounds_permit_id_at_idx" ON "rounds"("permit_id", "at");

-- CreateIndex
CREATE INDEX "permit_events_site_id_at_id_idx" ON "permit_events"("site_id", "at", "id");

-- CreateIndex
CREATE UNIQUE INDEX "permit_events_permit_id_seq_key" ON "permit_events"("permit_id", "seq");

-- CreateIndex
CREATE INDEX "hot_work_logs_permit_id_from_at_idx" ON "hot_work_logs"("permit_id", "from_at");

-- CreateIndex
CREATE INDEX "hot_work_logs_job_id_from_at_idx" ON "hot_work_logs"("job_id", "from_at");

-- CreateIndex
CREATE INDEX "hot_work_logs_site_id_recorded_at_id_idx" ON "hot_work_logs"("site_id", "recorded_at", "id");

-- CreateIndex
CREATE INDEX "work_outside_permit_site_id_recorded_at_id_idx" ON "work_outside_permit"("site_id", "recorded_at", "id");

-- CreateIndex
CREATE INDEX "work_outside_permit_permit_id_idx" ON "work_outside_permit"("permit_id");

-- CreateIndex
CREATE UNIQUE INDEX "notices_dedupe_key" ON "notices"("dedupe");

-- CreateIndex
CREATE INDEX "notices_person_id_seen_at_at_idx" ON "notices"("person_id", "seen_at", "at");

-- CreateIndex
CREATE INDEX "site_rulesets_site_id_from_at_idx" ON "site_rulesets"("site_id", "from_at");

-- CreateIndex
CREATE INDEX "company_layers_from_at_idx" ON "company_layers"("from_at");

-- CreateIndex
CREATE INDEX "audit_entries_subject_id_idx" ON "audit_entries"("subject_id");

-- CreateIndex
CREATE INDEX "chain_checks_chain_checked_at_idx" ON "chain_checks"("chain", "checked_at");

-- CreateIndex
CREATE INDEX "refused_attempts_site_id_at_id_idx" ON "refused_attempts"("site_id", "at", "id");

-- CreateIndex
CREATE INDEX "refused_attempts_subject_id_at_idx" ON "refused_attempts"("subject_id", "at");

-- AddForeignKey
ALTER TABLE "grants" ADD CONSTRAINT "grants_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "people"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "grants" ADD CONSTRAINT "grants_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "qualifications" ADD CONSTRAINT "qualifications_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "people"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "areas" ADD CONSTRAINT "areas_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crews" ADD CONSTRAINT "crews_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_members" ADD CONSTRAINT "crew_members_crew_id_fkey" FOREIGN KEY ("crew_id") REFERENCES "crews"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_members" ADD CONSTRAINT "crew_members_person_id_fkey" FOREIGN KEY ("person_id") REFERENCES "people"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_crew_id_fkey" FOREIGN KEY ("crew_id") REFERENCES "crews"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cut_lists" ADD CONSTRAINT "cut_lists_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "jobs"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cuts" ADD CONSTRAINT "cuts_cut_list_id_fkey" FOREIGN KEY ("cut_list_id") REFERENCES "cut_lists"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "estimates" ADD CONSTRAINT "estimates_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "jobs"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cylinder_sizes" ADD CONSTRAINT "cylinder_sizes_gas_id_fkey" FOREIGN KEY ("gas_id") REFERENCES "gases"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cylinders" ADD CONSTRAINT "cylinders_gas_id_fkey" FOREIGN KEY ("gas_id") REFERENCES "gases"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cylinders" ADD CONSTRAINT "cylinders_size_id_fkey" FOREIGN KEY ("size_id") REFERENCES "cylinder_sizes"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cylinders" ADD CONSTRAINT "cylinders_outfit_id_fkey" FOREIGN KEY ("outfit_id") REFERENCES "outfits"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cylinder_events" ADD CONSTRAINT "cylinder_events_cylinder_id_fkey" FOREIGN KEY ("cylinder_id") REFERENCES "cylinders"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "outfits" ADD CONSTRAINT "outfits_crew_id_fkey" FOREIGN KEY ("crew_id") REFERENCES "crews"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "outfit_parts" ADD CONSTRAINT "outfit_parts_outfit_id_fkey" FOREIGN KEY ("outfit_id") REFERENCES "outfits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "outfit_events" ADD CONSTRAINT "outfit_events_outfit_id_fkey" FOREIGN KEY ("outfit_id") REFERENCES "outfits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "prices" ADD CONSTRAINT "prices_supplier_id_fkey" FOREIGN KEY ("supplier_id") REFERENCES "suppliers"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "prices" ADD CONSTRAINT "prices_size_id_fkey" FOREIGN KEY ("size_id") REFERENCES "cylinder_sizes"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "orders" ADD CONSTRAINT "orders_supplier_id_fkey" FOREIGN KEY ("supplier_id") REFERENCES "suppliers"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "order_lines" ADD CONSTRAINT "order_lines_order_id_fkey" FOREIGN KEY ("order_id") REFERENCES "orders"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_order_id_fkey" FOREIGN KEY ("order_id") REFERENCES "orders"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "permits" ADD CONSTRAINT "permits_area_id_fkey" FOREIGN KEY ("area_id") REFERENCES "areas"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "permits" ADD CONSTRAINT "permits_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "jobs"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "permits" ADD CONSTRAINT "permits_outfit_id_fkey" FOREIGN KEY ("outfit_id") REFERENCES "outfits"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "clearance_answers" ADD CONSTRAINT "clearance_answers_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "gas_tests" ADD CONSTRAINT "gas_tests_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "signatures" ADD CONSTRAINT "signatures_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stints" ADD CONSTRAINT "stints_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "permit_open_spans" ADD CONSTRAINT "permit_open_spans_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "rounds" ADD CONSTRAINT "rounds_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "permit_events" ADD CONSTRAINT "permit_events_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "hot_work_logs" ADD CONSTRAINT "hot_work_logs_permit_id_fkey" FOREIGN KEY ("permit_id") REFERENCES "permits"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "site_rulesets" ADD CONSTRAINT "site_rulesets_site_id_fkey" FOREIGN KEY ("site_id") REFERENCES "sites"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ── What a row may hold ───────────────────────────────────────────────────────

ALTER TABLE people
  ADD CONSTRAINT people_email_lower CHECK (email = lower(email)),
  ADD CONSTRAINT people_units CHECK (units IN ('us', 'si')),
  ADD CONSTRAINT people_clock CHECK (clock IN ('24', '12')),
  ADD CONSTRAINT people_theme CHECK (theme IN ('device', 'light', 'dark'));
ALTER TABLE grants
  ADD CONSTRAINT grants_role CHECK (role IN ('foreman', 'operator', 'fire_watch', 'pai', 'shop_manager', 'yard_hand', 'auditor', 'administrator'));
CREATE UNIQUE INDEX grants_live ON grants (person_id, site_id, role) WHERE revoked_at IS NULL;
ALTER TABLE qualifications
  ADD CONSTRAINT qualifications_kind CHECK (kind IN ('torch_operator', 'fire_watch', 'pai')),
  ADD CONSTRAINT qualifications_days CHECK (valid_from <= valid_until);
ALTER TABLE areas ADD CONSTRAINT areas_class CHECK (area_class IN ('designated', 'permit', 'not_permitted'));
ALTER TABLE crew_members ADD CONSTRAINT crew_members_days CHECK (to_date IS NULL OR from_date <= to_date);
ALTER TABLE jobs
  ADD CONSTRAINT jobs_state CHECK (state IN ('planned', 'running', 'done', 'dropped')),
  ADD CONSTRAINT jobs_days CHECK (planned_start <= planned_end),
  ADD CONSTRAINT jobs_chance CHECK (chance_to_run BETWEEN 0 AND 1);
ALTER TABLE cuts
  ADD CONSTRAINT cuts_count CHECK (count > 0),
  ADD CONSTRAINT cuts_done CHECK (done_count >= 0);
ALTER TABLE cylinders
  ADD CONSTRAINT cylinders_ownership CHECK (ownership IN ('owned', 'rented')),
  ADD CONSTRAINT cylinders_status CHECK (status IN ('new', 'full', 'partial', 'empty', 'in_use', 'quarantined', 'in_transit', 'returned', 'at_test', 'lost', 'scrapped')),
  ADD CONSTRAINT cylinders_side CHECK (side IN ('oxygen', 'fuel', 'shield')),
  -- At one place: what hangs on an outfit is in use there and nowhere else.
  ADD CONSTRAINT cylinders_on_outfit CHECK ((outfit_id IS NULL) = (status <> 'in_use') AND (outfit_id IS NULL) = (place IS NULL) AND (outfit_id IS NULL) = (side IS NULL)),
  ADD CONSTRAINT cylinders_somewhere CHECK ((status IN ('new', 'returned', 'at_test', 'lost', 'scrapped')) = (site_id IS NULL)),
  ADD CONSTRAINT cylinders_due_month CHECK (due_month = date_trunc('month', due_month)::date),
  ADD CONSTRAINT cylinders_contents CHECK (contents_kg >= 0 AND contents_u_kg >= 0);
CREATE UNIQUE INDEX outfit_places_one ON cylinders (outfit_id, side, place) WHERE outfit_id IS NOT NULL;
ALTER TABLE cylinder_events
  ADD CONSTRAINT cylinder_events_kind CHECK (kind IN ('received', 'moved', 'loaded', 'unloaded', 'put_on', 'taken_off', 'read', 'returned', 'quarantined', 'released', 'sent_for_test', 'requalified', 'lost', 'found', 'scrapped', 'filled', 'corrected', 'found_on')),
  ADD CONSTRAINT cylinder_events_contents CHECK (contents_kg >= 0 AND contents_u_kg >= 0),
  ADD CONSTRAINT cylinder_events_due_month CHECK (due_month = date_trunc('month', due_month)::date),
  ADD CONSTRAINT cylinder_events_times CHECK (at <= recorded_at);
ALTER TABLE swaps
  ADD CONSTRAINT swaps_side CHECK (side IN ('oxygen', 'fuel', 'shield')),
  ADD CONSTRAINT swaps_two CHECK (off_cylinder_id <> on_cylinder_id),
  ADD CONSTRAINT swaps_shut_bled_tested CHECK (shut_and_bled AND leak_tested);
ALTER TABLE outfits
  ADD CONSTRAINT outfits_state CHECK (state IN ('in_service', 'out_of_service')),
  ADD CONSTRAINT outfits_places CHECK (oxygen_places BETWEEN 1 AND 24 AND fuel_places BETWEEN 1 AND 24);
ALTER TABLE outfit_events
  ADD CONSTRAINT outfit_events_kind CHECK (kind IN ('inspected', 'leak_tested', 'flashback', 'out_of_service', 'back_in_service')),
  ADD CONSTRAINT outfit_events_reason CHECK (kind NOT IN ('flashback', 'out_of_service') OR length(reason) > 0);
ALTER TABLE prices ADD CONSTRAINT prices_amounts CHECK (fill_minor >= 0 AND rent_minor_per_day >= 0);
ALTER TABLE orders ADD CONSTRAINT orders_state CHECK (state IN ('confirmed', 'delivered', 'cancelled'));
ALTER TABLE order_lines ADD CONSTRAINT order_lines_quantity CHECK (quantity > 0);
ALTER TABLE permits
  ADD CONSTRAINT permits_state CHECK (state IN ('preparing', 'cleared', 'open', 'held', 'watch', 'closed', 'withdrawn')),
  ADD CONSTRAINT permits_planned CHECK (planned_from < planned_until),
  ADD CONSTRAINT permits_operator_not_watch CHECK (operator_id <> fire_watch_id),
  ADD CONSTRAINT permits_not_own_issue CHECK (operator_id <> issued_by),
  ADD CONSTRAINT permits_stop_code CHECK (length(stop_code) = 12),
  ADD CONSTRAINT permits_issued CHECK (state IN ('preparing', 'cleared', 'withdrawn') OR (issued_at IS NOT NULL AND issued_by IS NOT NULL AND valid_until IS NOT NULL AND watch_minutes IS NOT NULL AND frozen IS NOT NULL)),
  ADD CONSTRAINT permits_torch_out CHECK ((state IN ('held', 'watch', 'closed')) = (torch_out_at IS NOT NULL));
ALTER TABLE signatures
  ADD CONSTRAINT signatures_act CHECK ((act, role) IN (('agree', 'operator'), ('acknowledge', 'fire_watch'), ('issue', 'pai'), ('resume', 'pai'), ('go_back', 'pai'), ('final_watch', 'fire_watch'), ('final_pai', 'pai'))),
  ADD CONSTRAINT signatures_on_site CHECK (on_site);
ALTER TABLE stints
  ADD CONSTRAINT stints_role CHECK (role IN ('operator', 'fire_watch')),
  ADD CONSTRAINT stints_times CHECK (from_at <= to_at),
  -- Nobody is operator and fire watch at once, cuts in two areas, or watches two that no single view covers.
  ADD CONSTRAINT stints_one_place EXCLUDE USING gist (person_id WITH =, slot WITH <>, tstzrange(from_at, to_at) WITH &&);
ALTER TABLE permit_open_spans
  ADD CONSTRAINT permit_open_spans_times CHECK (from_at <= to_at),
  ADD CONSTRAINT permit_open_spans_apart EXCLUDE USING gist (permit_id WITH =, tstzrange(from_at, to_at) WITH &&);
ALTER TABLE rounds ADD CONSTRAINT rounds_worst CHECK (worst IN ('clear', 'warm', 'smoke'));
ALTER TABLE permit_events
  ADD CONSTRAINT permit_events_kind CHECK (kind IN ('prepared', 'cleared', 'clearance_reopened', 'issued', 'held', 'resumed', 'work_ended', 'expired', 'stopped', 'stop_withdrawn', 'watch_on', 'watch_off', 'operator_on', 'operator_off', 'round', 'monitored', 'final_look', 'statement', 'reopened', 'closed', 'withdrawn', 'watch_restarted', 'impairment_restored', 'note')),
  ADD CONSTRAINT permit_events_person CHECK (person_id IS NOT NULL OR kind IN ('held', 'stopped', 'expired', 'watch_restarted', 'note'));
CREATE UNIQUE INDEX permit_events_round ON permit_events (subject_id) WHERE kind = 'round';
ALTER TABLE hot_work_logs
  ADD CONSTRAINT hot_work_logs_times CHECK (from_at < to_at AND to_at <= recorded_at),
  ADD CONSTRAINT hot_work_logs_pieces CHECK (pieces >= 0),
  ADD CONSTRAINT hot_work_logs_one_area EXCLUDE USING gist (operator_id WITH =, area_id WITH <>, tstzrange(from_at, to_at) WITH &&) WHERE (corrects_id IS NULL);
CREATE UNIQUE INDEX hot_work_logs_corrects ON hot_work_logs (corrects_id);
-- Who cuts or watches now; what is running, for the clock and for work outside a permit.
CREATE INDEX stints_now ON stints (person_id) WHERE to_at IS NULL;
CREATE INDEX permits_running ON permits (area_id) WHERE state IN ('open', 'held', 'watch');
ALTER TABLE work_outside_permit ADD CONSTRAINT work_outside_permit_times CHECK (from_at < to_at AND to_at <= recorded_at);
ALTER TABLE audit_entries
  ADD CONSTRAINT audit_entries_seq CHECK (seq > 0),
  ADD CONSTRAINT audit_entries_hash CHECK (hash ~ '^[0-9a-f]{64}$');

-- Who and where must exist; the rest of the foreign keys stand with the tables above.
DO $$
DECLARE pair text[];
BEGIN
  FOREACH pair SLICE 1 IN ARRAY ARRAY[
    ['permits', 'operator_id'], ['permits', 'fire_watch_id'], ['permits', 'prepared_by'], ['permits', 'issued_by'],
    ['permit_events', 'person_id'], ['signatures', 'person_id'], ['stints', 'person_id'], ['rounds', 'person_id'],
    ['clearance_answers', 'person_id'], ['gas_tests', 'person_id'], ['hot_work_logs', 'operator_id'], ['hot_work_logs', 'person_id'],
    ['work_outside_permit', 'operator_id'], ['work_outside_permit', 'person_id'], ['cylinder_events', 'person_id'],
    ['swaps', 'person_id'], ['outfit_events', 'person_id'], ['notices', 'person_id'], ['estimates', 'kept_by'],
    ['deliveries', 'received_by'], ['orders', 'confirmed_by']]
  LOOP
    EXECUTE format('ALTER TABLE %1$I ADD CONSTRAINT %1$s_%2$s_person FOREIGN KEY (%2$I) REFERENCES people (id)', pair[1], pair[2]);
  END LOOP;
  FOREACH pair SLICE 1 IN ARRAY ARRAY[
    ['permits', 'site_id'], ['cylinders', 'site_id'], ['cylinder_events', 'site_id'], ['cylinder_events', 'to_site_id'],
    ['outfits', 'site_id'], ['hot_work_logs', 'site_id'], ['work_outside_permit', 'site_id'], ['notices', 'site_id'],
    ['orders', 'site_id'], ['deliveries', 'site_id'], ['cut_lists', 'site_id'], ['estimates', 'site_id']]
  LOOP
    EXECUTE format('ALTER TABLE %1$I ADD CONSTRAINT %1$s_%2$s_site FOREIGN KEY (%2$I) REFERENCES sites (id)', pair[1], pair[2]);
  END LOOP;
END $$;

-- ── What is true of people and places ─────────────────────────────────────────
-- Functions that write run as the owner with a fixed search_path; pg_temp comes last, so that no
-- temporary table can stand in for a real one.

CREATE FUNCTION kerf_site_day(site uuid, at timestamptz) RETURNS date LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT (at AT TIME ZONE s.zone)::date FROM sites s WHERE s.id = site
$$;

-- Why this person may not act in this role on that day; empty when they may.
CREATE FUNCTION kerf_person_reasons(person uuid, wanted text, day date) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT CASE WHEN p.id IS NULL OR p.disabled_at IS NOT NULL
              THEN kerf_reason('PERSON_DISABLED', jsonb_build_object('personId', person, 'role', wanted)) ELSE '[]' END
      || CASE WHEN NOT EXISTS (SELECT 1 FROM qualifications q WHERE q.person_id = person AND q.kind = wanted AND day BETWEEN q.valid_from AND q.valid_until)
              THEN kerf_reason('NOT_QUALIFIED', jsonb_build_object('personId', person, 'kind', wanted, 'day', day)) ELSE '[]' END
  FROM (SELECT 1) AS one LEFT JOIN people p ON p.id = person
$$;

-- Where else this person cuts or watches now.
CREATE FUNCTION kerf_elsewhere_reasons(person uuid, wanted_slot text) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(jsonb_agg(jsonb_build_object('code', 'PERSON_ELSEWHERE', 'params',
           jsonb_build_object('personId', person, 'role', s.role, 'permitId', s.permit_id))), '[]')
  FROM stints s WHERE s.person_id = person AND s.to_at IS NULL AND s.slot <> wanted_slot
$$;

CREATE FUNCTION kerf_watch_slot(area uuid) RETURNS text LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT 'watch:' || coalesce(a.view_id, a.id) FROM areas a WHERE a.id = area
$$;

-- Tells the site's PAIs and foremen. dedupe lets every process and every retry try.
CREATE FUNCTION kerf_notify_people(site uuid, what text, subject uuid, details jsonb, once text) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
  SELECT gen_random_uuid(), site, g.person_id, what, subject, details, once || ':' || g.person_id
  FROM grants g JOIN people p ON p.id = g.person_id AND p.disabled_at IS NULL
  WHERE g.site_id = site AND g.role IN ('pai', 'foreman') AND g.revoked_at IS NULL
  GROUP BY g.person_id
  ON CONFLICT (dedupe) DO NOTHING
$$;

-- ── How long has been watched ─────────────────────────────────────────────────

-- The twin of lib/permit's watchProgress, in whole milliseconds. Presence counts; rounds fall due
-- each interval after the anchor and may be made two minutes early; from a missed due time until
-- the late round nothing counts; a round late by an interval or more restarts the watch there. A
-- round satisfies one due time, and one before its window satisfies none.
-- Once the minutes are reached they stay reached, until the torch burns again.
CREATE FUNCTION kerf_watch_progress_of(
  torch_out timestamptz, watch_min numeric, interval_min numeric,
  presence tstzmultirange, rounds timestamptz[], until timestamptz,
  OUT anchor_at timestamptz, OUT credit_ms bigint, OUT restarts int, OUT added_ms bigint, OUT done_at timestamptz, OUT next_due_at timestamptz
) LANGUAGE plpgsql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  early_ms constant bigint := 120000;
  need_ms bigint := round(watch_min * 60000);
  step_ms bigint := round(coalesce(interval_min, 0) * 60000);
  now_ms bigint := kerf_ms(until);
  anchor bigint := kerf_ms(torch_out);
  slot bigint := 1;                      -- the earliest unsatisfied one
  due bigint;
  unproven int8multirange := '{}';
  present int8multirange;
  made bigint;
  reached bigint;
BEGIN
  restarts := 0; added_ms := 0;
  SELECT coalesce(range_agg(int8range(kerf_ms(lower(r)), kerf_ms(upper(r)))), '{}') INTO present
  FROM unnest(presence) AS r;
  FOREACH made IN ARRAY ARRAY(SELECT kerf_ms(r) FROM unnest(rounds) AS r WHERE r >= torch_out AND r <= until ORDER BY r) LOOP
    CONTINUE WHEN step_ms <= 0;
    due := anchor + slot * step_ms;
    CONTINUE WHEN made < due - early_ms;
    IF made - due >= step_ms THEN
      -- Too long unproven: first see whether the watch was over before the gap began.
      reached := kerf_watch_reached(present * int8multirange(int8range(anchor, due)) - unproven, anchor, need_ms);
      EXIT WHEN reached IS NOT NULL;
      restarts := restarts + 1; added_ms := added_ms + made - anchor;
      anchor := made; slot := 1; unproven := '{}';
      CONTINUE;
    END IF;
    IF made > due THEN
      unproven := unproven + int8multirange(int8range(due, made));
      added_ms := added_ms + made - due;
    END IF;
    slot := slot + 1;
  END LOOP;
  due := anchor + slot * step_ms;
  IF reached IS NULL THEN
    IF step_ms > 0 AND now_ms > due THEN unproven := unproven + int8multirange(int8range(due, now_ms)); END IF;
    reached := kerf_watch_reached(present * int8multirange(int8range(anchor, greatest(now_ms, anchor))) - unproven, anchor, need_ms);
  END IF;
  IF reached < now_ms THEN               -- rounds after the end change nothing
    SELECT w.* INTO anchor_at, credit_ms, restarts, added_ms, done_at, next_due_at
    FROM kerf_watch_progress_of(torch_out, watch_min, interval_min, presence, rounds, to_timestamp(reached / 1000.0)) AS w;
    RETURN;
  END IF;
  anchor_at := to_timestamp(anchor / 1000.0);
  IF reached IS NOT NULL THEN
    done_at := to_timestamp(reached / 1000.0);
    credit_ms := greatest(0, need_ms);
  ELSIF step_ms > 0 AND now_ms - due >= step_ms THEN
    credit_ms := 0;                      -- the next round restarts it
  ELSE
    SELECT coalesce(sum(upper(r) - lower(r)), 0) INTO credit_ms
    FROM unnest(present * int8multirange(int8range(anchor, greatest(now_ms, anchor))) - unproven) AS r;
  END IF;
  IF done_at IS NULL AND step_ms > 0 THEN next_due_at := to_timestamp(due / 1000.0); END IF;
END $$;

-- The millisecond in which this much had been watched; null when it has not.
CREATE FUNCTION kerf_watch_reached(watched int8multirange, anchor bigint, need_ms bigint) RETURNS bigint LANGUAGE plpgsql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  part int8range;
  left_ms bigint := need_ms;
BEGIN
  IF need_ms <= 0 THEN RETURN anchor; END IF;
  FOR part IN SELECT r FROM unnest(watched) AS r ORDER BY lower(r) LOOP
    IF upper(part) - lower(part) >= left_ms THEN RETURN lower(part) + left_ms; END IF;
    left_ms := left_ms - (upper(part) - lower(part));
  END LOOP;
  RETURN NULL;
END $$;

CREATE FUNCTION kerf_watch_progress(
  permit uuid, until timestamptz DEFAULT kerf_now(),
  OUT anchor_at timestamptz, OUT credit_ms bigint, OUT restarts int, OUT added_ms bigint, OUT done_at timestamptz, OUT next_due_at timestamptz
) LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT w.* FROM permits p, LATERAL kerf_watch_progress_of(
    p.torch_out_at, p.watch_minutes, p.round_interval_min,
    (SELECT coalesce(range_agg(tstzrange(greatest(s.from_at, p.torch_out_at), coalesce(s.to_at, until))), '{}') FROM stints s
      WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND coalesce(s.to_at, until) > greatest(s.from_at, p.torch_out_at)),
    ARRAY(SELECT r.at FROM rounds r WHERE r.permit_id = p.id AND r.at >= p.torch_out_at), until) AS w
  WHERE p.id = permit AND p.torch_out_at IS NOT NULL
$$;

-- ── A permit begins ───────────────────────────────────────────────────────────

CREATE FUNCTION kerf_permit_new() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  job jobs%ROWTYPE;
  area areas%ROWTYPE;
  reasons jsonb := '[]';
  blank permits%ROWTYPE;
BEGIN
  SELECT * INTO job FROM jobs WHERE id = NEW.job_id FOR NO KEY UPDATE;
  SELECT * INTO area FROM areas WHERE id = NEW.area_id;
  IF job.id IS NULL OR job.site_id <> NEW.site_id THEN reasons := reasons || kerf_reason('JOB_OTHER_SITE'); END IF;
  IF job.state IN ('done', 'dropped') THEN reasons := reasons || kerf_reason('JOB_OVER', jsonb_build_object('state', job.state)); END IF;
  IF area.id IS NULL OR area.site_id <> NEW.site_id THEN reasons := reasons || kerf_reason('AREA_OTHER_SITE'); END IF;
  IF area.area_class = 'not_permitted' THEN reasons := reasons || kerf_reason('AREA_NOT_PERMITTED', jsonb_build_object('area', area.name)); END IF;
  IF NEW.operator_id = NEW.fire_watch_id THEN reasons := reasons || kerf_reason('OPERATOR_IS_WATCH'); END IF;
  IF NEW.cut_list_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM cut_lists c WHERE c.id = NEW.cut_list_id AND c.job_id = NEW.job_id) THEN
    reasons := reasons || kerf_reason('CUT_LIST_OTHER_JOB');
  END IF;
  IF NEW.outfit_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM outfits o WHERE o.id = NEW.outfit_id AND o.site_id = NEW.site_id) THEN
    reasons := reasons || kerf_reason('OUTFIT_OTHER_SITE');
  END IF;
  PERFORM kerf_refuse_all(reasons);

  UPDATE jobs SET last_permit_no = last_permit_no + 1 WHERE id = job.id RETURNING last_permit_no INTO NEW.number;
  NEW.created_at := kerf_now(); NEW.state := 'preparing'; NEW.state_at := NEW.created_at;
  NEW.stop_code := kerf_stop_code(); NEW.survey_no := 1; NEW.last_event_seq := 0; NEW.version := 0;
  NEW.cleared_at := NULL; NEW.issued_at := NULL; NEW.issued_by := NULL; NEW.valid_until := NULL; NEW.last_cut_by := NULL;
  NEW.torch_out_at := NULL; NEW.held_at := NULL; NEW.hold_reason := NULL; NEW.stop_pressed_at := NULL; NEW.stopped_at := NULL;
  NEW.expired_at := NULL; NEW.watch_at := NULL; NEW.closed_at := NULL; NEW.withdrawn_at := NULL;
  NEW.watch_required := NULL; NEW.watch_minutes := NULL; NEW.round_interval_min := NULL; NEW.monitoring_minutes := NULL;
  NEW.final_look_minutes := NULL; NEW.statement_required := NULL; NEW.gas_test_required := NULL; NEW.gas_test_valid_min := NULL;
  NEW.frozen := NULL;
  RETURN NEW;
END $$;
CREATE TRIGGER permit_new BEFORE INSERT ON permits FOR EACH ROW EXECUTE FUNCTION kerf_permit_new();

-- What was promised at issue never loosens, whoever asks, the owner included.
CREATE FUNCTION kerf_permit_keeps() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
BEGIN
  IF OLD.state IN ('closed', 'withdrawn')
     AND (to_jsonb(OLD) - 'last_event_seq' - 'version') <> (to_jsonb(NEW) - 'last_event_seq' - 'version') THEN -- a note may still be added
    reasons := reasons || kerf_reason('PERMIT_OVER', jsonb_build_object('state', OLD.state));
  END IF;
  IF (OLD.site_id, OLD.area_id, OLD.job_id, OLD.number, OLD.operator_id, OLD.stop_code)
     IS DISTINCT FROM (NEW.site_id, NEW.area_id, NEW.job_id, NEW.number, NEW.operator_id, NEW.stop_code)
     OR OLD.fire_watch_id IS DISTINCT FROM NEW.fire_watch_id OR OLD.created_at <> NEW.created_at THEN
    reasons := reasons || kerf_reason('PERMIT_FIXED');
  END IF;
  IF OLD.issued_at IS NOT NULL AND (
       coalesce(NEW.watch_minutes < OLD.watch_minutes, NEW.watch_minutes IS NULL)
    OR coalesce(NEW.monitoring_minutes < OLD.monitoring_minutes, NEW.monitoring_minutes IS NULL)
    OR coalesce(NEW.final_look_minutes < OLD.final_look_minutes, NEW.final_look_minutes IS NULL)
    OR coalesce(NEW.round_interval_min > OLD.round_interval_min, NEW.round_interval_min IS NULL)
    OR coalesce(NEW.gas_test_valid_min > OLD.gas_test_valid_min, NEW.gas_test_valid_min IS NULL)
    OR (OLD.watch_required AND NEW.watch_required IS NOT TRUE)
    OR (OLD.statement_required AND NEW.statement_required IS NOT TRUE)
    OR (OLD.gas_test_required AND NEW.gas_test_required IS NOT TRUE)
    OR NEW.frozen IS DISTINCT FROM OLD.frozen OR NEW.issued_at IS DISTINCT FROM OLD.issued_at OR NEW.issued_by IS DISTINCT FROM OLD.issued_by
    OR coalesce(NEW.valid_until > OLD.valid_until, NEW.valid_until IS NULL)) THEN
    reasons := reasons || kerf_reason('FROZEN');
  END IF;
  IF OLD.stopped_at IS NOT NULL AND (NEW.stopped_at IS DISTINCT FROM OLD.stopped_at OR NEW.state NOT IN ('watch', 'closed', 'withdrawn')) THEN
    reasons := reasons || kerf_reason('PERMIT_STOPPED');
  END IF;
  IF OLD.state IN ('held', 'watch') AND NEW.state IN ('held', 'watch', 'closed') AND NEW.torch_out_at < OLD.torch_out_at THEN
    reasons := reasons || kerf_reason('TORCH_OUT_EARLIER');
  END IF;
  PERFORM kerf_refuse_all(reasons, 'KW004');
  NEW.version := OLD.version + 1;
  RETURN NEW;
END $$;
CREATE TRIGGER permit_keeps BEFORE UPDATE ON permits FOR EACH ROW EXECUTE FUNCTION kerf_permit_keeps();

-- A span that has ended stays as it is; one that has not may only be ended.
CREATE FUNCTION kerf_span_keeps() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.to_at IS NOT NULL OR NEW.to_at IS NULL OR (to_jsonb(OLD) - 'to_at') <> (to_jsonb(NEW) - 'to_at') THEN
    PERFORM kerf_refuse('APPEND_ONLY', jsonb_build_object('table', TG_TABLE_NAME, 'op', TG_OP), 'KW002');
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER span_keeps BEFORE UPDATE ON stints FOR EACH ROW EXECUTE FUNCTION kerf_span_keeps();
CREATE TRIGGER span_keeps BEFORE UPDATE ON permit_open_spans FOR EACH ROW EXECUTE FUNCTION kerf_span_keeps();

-- ── Facts about a permit that move no state by themselves ─────────────────────

-- The permit, locked; every fact about it passes here first and reads the clock afterwards.
CREATE FUNCTION kerf_lock_permit(wanted uuid) RETURNS permits LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  SELECT * INTO p FROM permits WHERE id = wanted FOR NO KEY UPDATE;
  IF p.id IS NULL THEN PERFORM kerf_refuse('PERMIT_UNKNOWN'); END IF;
  RETURN p;
END $$;

CREATE FUNCTION kerf_clearance_answer() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id;
  IF p.state NOT IN ('preparing', 'held', 'watch') THEN reasons := reasons || kerf_reason('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'answer')); END IF;
  IF NEW.survey_no <> p.survey_no THEN reasons := reasons || kerf_reason('SURVEY_PASSED', jsonb_build_object('surveyNo', p.survey_no)); END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER clearance_answer BEFORE INSERT ON clearance_answers FOR EACH ROW EXECUTE FUNCTION kerf_clearance_answer();

CREATE FUNCTION kerf_gas_test() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id;
  IF p.state IN ('closed', 'withdrawn') THEN PERFORM kerf_refuse('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'gas_test')); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER gas_test BEFORE INSERT ON gas_tests FOR EACH ROW EXECUTE FUNCTION kerf_gas_test();

CREATE FUNCTION kerf_signature() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
  allowed text[] := CASE NEW.act
    WHEN 'agree' THEN '{cleared,open,held,watch}' WHEN 'acknowledge' THEN '{cleared,open,held,watch}'
    WHEN 'issue' THEN '{cleared}' WHEN 'resume' THEN '{held}' ELSE '{watch}' END;
  kind text := CASE NEW.role WHEN 'operator' THEN 'torch_operator' ELSE NEW.role END;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id; NEW.survey_no := p.survey_no;
  IF p.state <> ALL (allowed) THEN reasons := reasons || kerf_reason('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', NEW.act)); END IF;
  IF NEW.role = 'pai' AND (NEW.person_id = p.operator_id OR EXISTS (
       SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.role = 'operator' AND s.person_id = NEW.person_id)) THEN
    reasons := reasons || kerf_reason('OWN_WORK', jsonb_build_object('personId', NEW.person_id));
  END IF;
  IF NEW.act = 'final_watch' AND NOT EXISTS (
       SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND s.person_id = NEW.person_id) THEN
    reasons := reasons || kerf_reason('NOT_ON_WATCH', jsonb_build_object('personId', NEW.person_id));
  END IF;
  PERFORM kerf_refuse_all(reasons || kerf_person_reasons(NEW.person_id, kind, kerf_site_day(p.site_id, NEW.at)));
  RETURN NEW;
END $$;
CREATE TRIGGER signature BEFORE INSERT ON signatures FOR EACH ROW EXECUTE FUNCTION kerf_signature();

CREATE FUNCTION kerf_round() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
  answers text[];
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.site_id := p.site_id; NEW.due_at := NULL; NEW.late_ms := 0;
  IF p.state NOT IN ('open', 'held', 'watch') THEN reasons := reasons || kerf_reason('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', 'round')); END IF;
  IF NOT EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND s.person_id = NEW.person_id AND s.to_at IS NULL) THEN
    reasons := reasons || kerf_reason('NOT_ON_WATCH', jsonb_build_object('personId', NEW.person_id));
  END IF;
  SELECT array_agg(a ->> 'answer') INTO answers FROM jsonb_array_elements(NEW.posts) AS a;
  IF answers IS NULL OR NOT (answers <@ ARRAY['clear', 'warm', 'smoke']) OR array_position(answers, NULL) IS NOT NULL THEN
    reasons := reasons || kerf_reason('ROUND_ANSWERS');
  END IF;
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'POST_MISSED', 'params', jsonb_build_object('post', wanted))), '[]') INTO reasons
  FROM jsonb_array_elements_text(coalesce(p.frozen #> '{duties,posts}', '[]')) AS wanted
  WHERE NOT EXISTS (SELECT 1 FROM jsonb_array_elements(NEW.posts) AS a WHERE wanted IN (a ->> 'postId', a ->> 'post', a ->> 'name'));
  PERFORM kerf_refuse_all(reasons);

  NEW.worst := CASE WHEN 'smoke' = ANY (answers) THEN 'smoke' WHEN 'warm' = ANY (answers) THEN 'warm' ELSE 'clear' END;
  IF p.torch_out_at IS NOT NULL AND p.round_interval_min > 0 THEN
    SELECT w.next_due_at INTO NEW.due_at FROM kerf_watch_progress(p.id, NEW.at) AS w;
    -- Before its window opens a look is only a look.
    IF NEW.at < NEW.due_at - interval '2 minutes' THEN NEW.due_at := NULL; END IF;
    NEW.late_ms := coalesce(least(greatest(0, kerf_ms(NEW.at) - kerf_ms(NEW.due_at)), 2147483647), 0);
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER round BEFORE INSERT ON rounds FOR EACH ROW EXECUTE FUNCTION kerf_round();

-- Smoke restarts the watch at once and tells who must know.
CREATE FUNCTION kerf_round_smoke() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM kerf_notify_people(NEW.site_id, 'smoke', NEW.permit_id, jsonb_build_object('roundId', NEW.id), 'smoke:' || NEW.id);
  IF EXISTS (SELECT 1 FROM permits p WHERE p.id = NEW.permit_id AND p.torch_out_at IS NOT NULL) THEN
    INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
    VALUES (gen_random_uuid(), NEW.site_id, NEW.permit_id, 'watch_restarted', NEW.person_id, NEW.role_then, NEW.id, '{"because": "smoke"}');
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER round_smoke AFTER INSERT ON rounds FOR EACH ROW WHEN (NEW.worst = 'smoke') EXECUTE FUNCTION kerf_round_smoke();

-- ── The permit's life ─────────────────────────────────────────────────────────

-- In which states an event may be recorded. Whatever is not here is refused.
CREATE FUNCTION kerf_event_states(kind text) RETURNS text[] LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT CASE kind
    WHEN 'prepared' THEN ARRAY['preparing']
    WHEN 'cleared' THEN ARRAY['preparing']
    WHEN 'clearance_reopened' THEN ARRAY['cleared']
    WHEN 'issued' THEN ARRAY['cleared']
    WHEN 'held' THEN ARRAY['open']
    WHEN 'resumed' THEN ARRAY['held']
    WHEN 'work_ended' THEN ARRAY['open', 'held']
    WHEN 'expired' THEN ARRAY['open', 'held']
    WHEN 'stopped' THEN ARRAY['preparing', 'cleared', 'open', 'held', 'watch']
    WHEN 'stop_withdrawn' THEN ARRAY['preparing', 'cleared', 'held', 'watch']
    WHEN 'watch_on' THEN ARRAY['open', 'held', 'watch']
    WHEN 'watch_off' THEN ARRAY['open', 'held', 'watch']
    WHEN 'operator_on' THEN ARRAY['open']
    WHEN 'operator_off' THEN ARRAY['open']
    WHEN 'round' THEN ARRAY['open', 'held', 'watch']
    WHEN 'monitored' THEN ARRAY['watch']
    WHEN 'final_look' THEN ARRAY['watch']
    WHEN 'statement' THEN ARRAY['watch']
    WHEN 'reopened' THEN ARRAY['watch']
    WHEN 'closed' THEN ARRAY['watch']
    WHEN 'withdrawn' THEN ARRAY['preparing', 'cleared']
    WHEN 'watch_restarted' THEN ARRAY['held', 'watch']
    WHEN 'impairment_restored' THEN ARRAY['open', 'held', 'watch']
    WHEN 'note' THEN ARRAY['preparing', 'cleared', 'open', 'held', 'watch', 'closed', 'withdrawn']
    ELSE ARRAY[]::text[] END
$$;

-- A signature of this act in the present survey, made after `since`; null when there is none.
CREATE FUNCTION kerf_signed_at(p permits, wanted text, by_person uuid, since timestamptz) RETURNS timestamptz LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT max(s.at) FROM signatures s
  WHERE s.permit_id = p.id AND s.act = wanted AND s.survey_no = p.survey_no
    AND s.person_id = coalesce(by_person, s.person_id) AND s.at >= since
$$;

-- Why the last gas test does not do; empty when none is needed or it does.
CREATE FUNCTION kerf_gas_test_reasons(p permits, duties jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  t gas_tests%ROWTYPE;
  reasons jsonb := '[]';
  day date := kerf_site_day(p.site_id, now_at);
BEGIN
  SELECT * INTO t FROM gas_tests g WHERE g.permit_id = p.id ORDER BY g.at DESC, g.id DESC LIMIT 1;
  IF (duties ->> 'gasTestNeeded')::boolean THEN
    IF t.id IS NULL THEN RETURN kerf_reason('GAS_TEST_MISSING'); END IF;
    IF now_at >= t.at + kerf_minutes((duties ->> 'gasTestValidMin')::numeric) THEN
      reasons := reasons || kerf_reason('GAS_TEST_OLD', jsonb_build_object('takenAt', kerf_ms(t.at), 'validMin', (duties ->> 'gasTestValidMin')::numeric));
    END IF;
    IF t.bump_tested_on < day OR t.calibrated_until < day THEN
      reasons := reasons || kerf_reason('GAS_TEST_INSTRUMENT', jsonb_build_object('instrument', t.instrument));
    END IF;
  END IF;
  -- A reading out of limits counts even where no test was asked for.
  IF t.oxygen_pct < (duties ->> 'oxygenMinPct')::float OR t.oxygen_pct > (duties ->> 'oxygenMaxPct')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_OXYGEN', jsonb_build_object('oxygenPct', t.oxygen_pct, 'minPct', duties -> 'oxygenMinPct', 'maxPct', duties -> 'oxygenMaxPct'));
  END IF;
  IF t.lel_pct > (duties ->> 'lelMaxPct')::float OR t.lel_pct >= (duties ->> 'lelStopAtPct')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_LEL', jsonb_build_object('lelPct', t.lel_pct, 'maxPct', duties -> 'lelMaxPct'));
  END IF;
  IF t.co_ppm > (duties ->> 'coMaxPpm')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_CO', jsonb_build_object('ppm', t.co_ppm, 'maxPpm', duties -> 'coMaxPpm'));
  END IF;
  IF t.h2s_ppm > (duties ->> 'h2sMaxPpm')::float THEN
    reasons := reasons || kerf_reason('GAS_TEST_H2S', jsonb_build_object('ppm', t.h2s_ppm, 'maxPpm', duties -> 'h2sMaxPpm'));
  END IF;
  RETURN reasons;
END $$;

-- The duties a permit is issued with must be there, be numbers, and not undercut the company's own layer.
CREATE FUNCTION kerf_duties_reasons(data jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  duties jsonb := data -> 'duties';
  floor_params jsonb;
  reasons jsonb := '[]';
  name text;
  least_value numeric;
BEGIN
  FOREACH name IN ARRAY ARRAY['watchMin', 'roundIntervalMin', 'monitoringMin', 'finalLookMin', 'gasTestValidMin', 'oxygenMinPct', 'oxygenMaxPct', 'lelMaxPct', 'capHours'] LOOP
    IF jsonb_typeof(duties -> name) IS DISTINCT FROM 'number' OR (duties ->> name)::numeric < 0 THEN
      reasons := reasons || kerf_reason('DUTY_MISSING', jsonb_build_object('duty', name));
    END IF;
  END LOOP;
  FOREACH name IN ARRAY ARRAY['statementRequired', 'gasTestNeeded', 'resumeNeedsPai'] LOOP
    IF jsonb_typeof(duties -> name) IS DISTINCT FROM 'boolean' THEN
      reasons := reasons || kerf_reason('DUTY_MISSING', jsonb_build_object('duty', name));
    END IF;
  END LOOP;
  IF jsonb_typeof(data -> 'watchRequired') IS DISTINCT FROM 'boolean' THEN
    reasons := reasons || kerf_reason('DUTY_MISSING', jsonb_build_object('duty', 'watchRequired'));
  END IF;
  IF jsonb_array_length(reasons) > 0 THEN RETURN reasons; END IF;

  SELECT coalesce(l.params -> 'parameters', l.params) INTO floor_params
  FROM company_layers l WHERE l.from_at <= now_at ORDER BY l.from_at DESC, l.id DESC LIMIT 1;
  IF (data ->> 'watchRequired')::boolean THEN
    least_value := coalesce((floor_params ->> 'postWatchMin')::numeric, 0);
    IF (duties ->> 'watchMin')::numeric < least_value OR (duties ->> 'watchMin')::numeric <= 0 THEN
      reasons := reasons || kerf_reason('BELOW_COMPANY', jsonb_build_object('duty', 'watchMin', 'value', duties -> 'watchMin', 'limit', least_value));
    END IF;
    IF (duties ->> 'roundIntervalMin')::numeric < 1 THEN reasons := reasons || kerf_reason('DUTY_MISSING', '{"duty": "roundIntervalMin"}'); END IF;
    IF (duties ->> 'roundIntervalMin')::numeric > (floor_params ->> 'roundIntervalMin')::numeric THEN
      reasons := reasons || kerf_reason('BELOW_COMPANY', jsonb_build_object('duty', 'roundIntervalMin', 'value', duties -> 'roundIntervalMin', 'limit', floor_params -> 'roundIntervalMin'));
    END IF;
  END IF;
  FOREACH name IN ARRAY ARRAY['capHours', 'gasTestValidMin'] LOOP
    IF (duties ->> name)::numeric > (floor_params ->> name)::numeric THEN
      reasons := reasons || kerf_reason('BELOW_COMPANY', jsonb_build_object('duty', name, 'value', duties -> name, 'limit', floor_params -> name));
    END IF;
  END LOOP;
  RETURN reasons;
END $$;

-- Why the permit may not be issued now, by this PAI, with these duties: every reason at once.
CREATE FUNCTION kerf_issue_reasons(p permits, issuer uuid, data jsonb, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := kerf_duties_reasons(data, now_at);
  day date := kerf_site_day(p.site_id, now_at);
  until timestamptz := (data ->> 'validUntil')::timestamptz;
  agreed timestamptz := kerf_signed_at(p, 'agree', p.operator_id, p.cleared_at);
  acknowledged timestamptz := kerf_signed_at(p, 'acknowledge', p.fire_watch_id, p.cleared_at);
  signed timestamptz := kerf_signed_at(p, 'issue', issuer, p.cleared_at);
  needs_watch boolean := coalesce((data -> 'watchRequired')::text = 'true', false) OR p.fire_watch_id IS NOT NULL;
BEGIN
  IF jsonb_array_length(reasons) = 0 THEN
    IF until > now_at + make_interval(secs => (data #>> '{duties,capHours}')::float * 3600) THEN
      reasons := reasons || kerf_reason('VALID_TOO_LONG', jsonb_build_object('capHours', data #> '{duties,capHours}'));
    END IF;
    reasons := reasons || kerf_gas_test_reasons(p, data -> 'duties', now_at);
  END IF;
  IF until IS NULL OR until <= now_at THEN reasons := reasons || kerf_reason('VALID_UNTIL_PAST'); END IF;
  IF p.stop_pressed_at IS NOT NULL THEN reasons := reasons || kerf_reason('STOP_PRESSED', jsonb_build_object('whenAt', kerf_ms(p.stop_pressed_at))); END IF;
  IF agreed IS NULL THEN reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'agree')); END IF;
  IF needs_watch AND p.fire_watch_id IS NULL THEN reasons := reasons || kerf_reason('WATCH_NOT_NAMED'); END IF;
  IF needs_watch AND p.fire_watch_id IS NOT NULL AND acknowledged IS NULL THEN reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'acknowledge')); END IF;
  IF signed IS NULL THEN
    reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'issue'));
  ELSIF signed < agreed OR (needs_watch AND signed < acknowledged) THEN
    reasons := reasons || kerf_reason('PAI_NOT_LAST');
  END IF;
  IF issuer = p.operator_id THEN reasons := reasons || kerf_reason('OWN_WORK', jsonb_build_object('personId', issuer)); END IF;
  reasons := reasons || kerf_person_reasons(p.operator_id, 'torch_operator', day) || kerf_person_reasons(issuer, 'pai', day)
    || kerf_elsewhere_reasons(p.operator_id, 'cut:' || p.area_id);
  IF p.fire_watch_id IS NOT NULL THEN
    reasons := reasons || kerf_person_reasons(p.fire_watch_id, 'fire_watch', day) || kerf_elsewhere_reasons(p.fire_watch_id, kerf_watch_slot(p.area_id));
  END IF;
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'OUTFIT_OUT_OF_SERVICE', 'params', jsonb_build_object('number', o.number, 'reason', coalesce(o.state_reason, '')))), '[]')
    INTO reasons FROM outfits o WHERE o.id = p.outfit_id AND (o.state <> 'in_service' OR o.site_id <> p.site_id);
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'AREA_NOT_PERMITTED', 'params', jsonb_build_object('area', a.name))), '[]')
    INTO reasons FROM areas a WHERE a.id = p.area_id AND a.area_class = 'not_permitted';
  RETURN reasons;
END $$;

-- Why the torch may not be lit again: from a hold (act resume) or from the watch (act go_back).
CREATE FUNCTION kerf_relight_reasons(p permits, act text, since timestamptz, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  looked timestamptz;
  stop_since boolean := p.stop_pressed_at IS NOT NULL OR EXISTS (
    SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'held' AND e.at >= since AND e.data @> '{"stop": true}');
BEGIN
  IF now_at >= p.valid_until THEN reasons := reasons || kerf_reason('PERMIT_EXPIRED', jsonb_build_object('untilAt', kerf_ms(p.valid_until))); END IF;
  IF p.stopped_at IS NOT NULL THEN reasons := reasons || kerf_reason('PERMIT_STOPPED', jsonb_build_object('whenAt', kerf_ms(p.stopped_at))); END IF;
  SELECT max(a.at) INTO looked FROM clearance_answers a WHERE a.permit_id = p.id AND a.survey_no = p.survey_no AND a.at >= since;
  IF looked IS NULL THEN reasons := reasons || kerf_reason('NEW_LOOK_MISSING'); END IF;
  IF (act = 'go_back' OR stop_since OR (p.frozen #>> '{duties,resumeNeedsPai}')::boolean)
     AND kerf_signed_at(p, act, NULL, coalesce(looked, since)) IS NULL THEN
    reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', act));
  END IF;
  IF p.watch_required AND NOT EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND s.to_at IS NULL) THEN
    reasons := reasons || kerf_reason('WATCH_ABSENT');
  END IF;
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'OUTFIT_OUT_OF_SERVICE', 'params', jsonb_build_object('number', o.number, 'reason', coalesce(o.state_reason, '')))), '[]')
    INTO reasons FROM outfits o WHERE o.id = p.outfit_id AND (o.state <> 'in_service' OR o.site_id <> p.site_id);
  RETURN reasons || kerf_gas_test_reasons(p, p.frozen -> 'duties', now_at)
    || kerf_person_reasons(p.operator_id, 'torch_operator', kerf_site_day(p.site_id, now_at))
    || kerf_elsewhere_reasons(p.operator_id, 'cut:' || p.area_id);
END $$;

-- Why the permit may not be closed now: every duty that is still owed.
CREATE FUNCTION kerf_close_reasons(p permits, now_at timestamptz) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  w record;
  final_from timestamptz;
  look_from timestamptz := p.torch_out_at + kerf_minutes(p.final_look_minutes);
BEGIN
  SELECT * INTO w FROM kerf_watch_progress(p.id, now_at);
  final_from := coalesce(w.done_at, p.torch_out_at);
  IF w.done_at IS NULL THEN
    reasons := reasons || kerf_reason('WATCH_NOT_DONE', jsonb_build_object('remainingMin', ceil((p.watch_minutes * 60000::bigint - w.credit_ms) / 60000.0), 'watchMin', p.watch_minutes));
  ELSIF p.monitoring_minutes > 0 AND NOT EXISTS (
    SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'monitored' AND e.at >= w.done_at + kerf_minutes(p.monitoring_minutes)) THEN
    reasons := reasons || kerf_reason('MONITORING_OWED', jsonb_build_object('fromAt', kerf_ms(w.done_at + kerf_minutes(p.monitoring_minutes))));
  END IF;
  IF p.final_look_minutes > 0 AND NOT EXISTS (
    SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'final_look' AND e.at >= look_from) THEN
    reasons := reasons || kerf_reason('FINAL_LOOK_OWED', jsonb_build_object('fromAt', kerf_ms(look_from)));
  END IF;
  IF p.statement_required AND NOT EXISTS (
    SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'statement' AND e.at >= p.torch_out_at) THEN
    reasons := reasons || kerf_reason('STATEMENT_OWED');
  END IF;
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'POST_NOT_COLD', 'params', jsonb_build_object('post', last.post, 'answer', last.answer)) ORDER BY last.post), '[]') INTO reasons
  FROM (SELECT DISTINCT ON (post) coalesce(a ->> 'postId', a ->> 'post') AS post, a ->> 'answer' AS answer
        FROM rounds r, jsonb_array_elements(r.posts) AS a WHERE r.permit_id = p.id
        ORDER BY post, r.at DESC, r.id DESC) AS last
  WHERE last.answer <> 'clear';
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'IMPAIRMENT_OPEN', 'params', jsonb_build_object('label', coalesce(i ->> 'label', i ->> 'id')))), '[]') INTO reasons
  FROM jsonb_array_elements(coalesce(p.frozen -> 'impairments', '[]')) AS i
  WHERE NOT EXISTS (SELECT 1 FROM permit_events e WHERE e.permit_id = p.id AND e.kind = 'impairment_restored' AND e.data ->> 'impairmentId' = i ->> 'id');
  IF p.watch_required AND NOT EXISTS (
    SELECT 1 FROM signatures s WHERE s.permit_id = p.id AND s.act = 'final_watch' AND s.at >= final_from) THEN
    reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'final_watch'));
  END IF;
  IF NOT EXISTS (SELECT 1 FROM signatures s WHERE s.permit_id = p.id AND s.act = 'final_pai' AND s.at >= final_from) THEN
    reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'final_pai'));
  END IF;
  RETURN reasons;
END $$;

-- Spans: the torch allowed, people cutting and watching.
CREATE FUNCTION kerf_begin_work(p permits, now_at timestamptz) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  INSERT INTO permit_open_spans (id, permit_id, from_at) VALUES (gen_random_uuid(), p.id, now_at);
  INSERT INTO stints (id, site_id, permit_id, person_id, role, slot, from_at)
  VALUES (gen_random_uuid(), p.site_id, p.id, p.operator_id, 'operator', 'cut:' || p.area_id, now_at);
$$;

-- The permit allows no torch after valid_until, whenever somebody says so.
CREATE FUNCTION kerf_end_work(p permits, at timestamptz) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  UPDATE permit_open_spans SET to_at = greatest(from_at, least(at, p.valid_until)) WHERE permit_id = p.id AND to_at IS NULL;
  UPDATE stints SET to_at = greatest(from_at, at) WHERE permit_id = p.id AND role = 'operator' AND to_at IS NULL;
$$;

CREATE FUNCTION kerf_enter_watch(p permits, now_at timestamptz, torch_out timestamptz) RETURNS void LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF p.state = 'open' THEN PERFORM kerf_end_work(p, torch_out); END IF;
  UPDATE permits SET state = 'watch', state_at = now_at, watch_at = now_at, survey_no = survey_no + 1,
    torch_out_at = CASE WHEN p.state = 'open' THEN torch_out ELSE p.torch_out_at END, held_at = NULL, hold_reason = NULL
  WHERE id = p.id;
END $$;

-- The checks of each kind of event, beyond its state.
CREATE FUNCTION kerf_event_reasons(p permits, e permit_events) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  day date := kerf_site_day(p.site_id, e.at);
BEGIN
  CASE e.kind
  WHEN 'prepared' THEN
    IF p.last_event_seq > 0 THEN reasons := kerf_reason('ALREADY_PREPARED'); END IF;
  WHEN 'cleared' THEN
    IF NOT EXISTS (SELECT 1 FROM clearance_answers a WHERE a.permit_id = p.id AND a.survey_no = p.survey_no) THEN reasons := kerf_reason('SURVEY_EMPTY'); END IF;
  WHEN 'issued' THEN reasons := kerf_issue_reasons(p, e.person_id, e.data, e.at);
  WHEN 'resumed' THEN reasons := kerf_relight_reasons(p, 'resume', p.held_at, e.at);
  WHEN 'reopened' THEN reasons := kerf_relight_reasons(p, 'go_back', p.watch_at, e.at);
  WHEN 'closed' THEN reasons := kerf_close_reasons(p, e.at);
  WHEN 'expired' THEN
    IF e.at < p.valid_until THEN reasons := kerf_reason('NOT_EXPIRED', jsonb_build_object('untilAt', kerf_ms(p.valid_until))); END IF;
  WHEN 'stopped' THEN
    IF p.stop_pressed_at IS NULL THEN reasons := kerf_reason('STOP_NOT_PRESSED'); END IF;
    IF p.stopped_at IS NOT NULL THEN reasons := kerf_reason('PERMIT_STOPPED', jsonb_build_object('whenAt', kerf_ms(p.stopped_at))); END IF;
  WHEN 'stop_withdrawn' THEN
    IF p.stop_pressed_at IS NULL THEN reasons := kerf_reason('STOP_NOT_PRESSED'); END IF;
    IF p.stopped_at IS NOT NULL THEN reasons := kerf_reason('PERMIT_STOPPED', jsonb_build_object('whenAt', kerf_ms(p.stopped_at))); END IF;
  WHEN 'operator_on' THEN
    reasons := kerf_person_reasons(e.subject_id, 'torch_operator', day) || kerf_elsewhere_reasons(e.subject_id, 'cut:' || p.area_id);
    IF EXISTS (SELECT 1 FROM signatures s WHERE s.permit_id = p.id AND s.role = 'pai' AND s.person_id = e.subject_id) THEN reasons := reasons || kerf_reason('OWN_WORK', jsonb_build_object('personId', e.subject_id)); END IF;
    IF kerf_signed_at(p, 'agree', e.subject_id, p.cleared_at) IS NULL THEN reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'agree')); END IF;
    IF e.at >= p.valid_until THEN reasons := reasons || kerf_reason('PERMIT_EXPIRED', jsonb_build_object('untilAt', kerf_ms(p.valid_until))); END IF;
    IF EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.person_id = e.subject_id AND s.role = 'operator' AND s.to_at IS NULL) THEN reasons := reasons || kerf_reason('ALREADY_ON'); END IF;
  WHEN 'watch_on' THEN
    reasons := kerf_person_reasons(e.subject_id, 'fire_watch', day) || kerf_elsewhere_reasons(e.subject_id, kerf_watch_slot(p.area_id));
    IF NOT EXISTS (SELECT 1 FROM signatures s WHERE s.permit_id = p.id AND s.act = 'acknowledge' AND s.person_id = e.subject_id) THEN
      reasons := reasons || kerf_reason('SIGNATURE_MISSING', jsonb_build_object('act', 'acknowledge'));
    END IF;
    IF EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.person_id = e.subject_id AND s.role = 'fire_watch' AND s.to_at IS NULL) THEN reasons := reasons || kerf_reason('ALREADY_ON'); END IF;
  WHEN 'operator_off' THEN
    IF NOT EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.person_id = e.subject_id AND s.role = 'operator' AND s.to_at IS NULL) THEN reasons := kerf_reason('NOT_ON'); END IF;
  WHEN 'watch_off' THEN
    IF NOT EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.person_id = e.subject_id AND s.role = 'fire_watch' AND s.to_at IS NULL) THEN reasons := kerf_reason('NOT_ON'); END IF;
    -- While the torch may burn somebody watches: another takes over first, or the work is held.
    IF p.state = 'open' AND p.watch_required AND NOT EXISTS (
         SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.person_id <> e.subject_id AND s.role = 'fire_watch' AND s.to_at IS NULL) THEN
      reasons := reasons || kerf_reason('HOLD_FIRST');
    END IF;
  WHEN 'round' THEN
    IF NOT EXISTS (SELECT 1 FROM rounds r WHERE r.id = e.subject_id AND r.permit_id = p.id) THEN reasons := kerf_reason('ROUND_UNKNOWN'); END IF;
  WHEN 'final_look' THEN
    IF e.at < p.torch_out_at + kerf_minutes(p.final_look_minutes) THEN
      reasons := kerf_reason('FINAL_LOOK_EARLY', jsonb_build_object('fromAt', kerf_ms(p.torch_out_at + kerf_minutes(p.final_look_minutes))));
    END IF;
  WHEN 'impairment_restored' THEN
    IF NOT coalesce(p.frozen -> 'impairments', '[]') @> jsonb_build_array(jsonb_build_object('id', e.data -> 'impairmentId')) THEN reasons := kerf_reason('IMPAIRMENT_UNKNOWN'); END IF;
  ELSE NULL;
  END CASE;
  RETURN reasons;
END $$;

-- What follows from each kind of event. The permit is locked and every check has passed.
CREATE FUNCTION kerf_event_apply(p permits, e permit_events) RETURNS void LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  duties jsonb := e.data -> 'duties';
BEGIN
  CASE e.kind
  WHEN 'cleared' THEN UPDATE permits SET state = 'cleared', state_at = e.at, cleared_at = e.at WHERE id = p.id;
  WHEN 'clearance_reopened' THEN UPDATE permits SET state = 'preparing', state_at = e.at, cleared_at = NULL, survey_no = survey_no + 1 WHERE id = p.id;
  WHEN 'issued' THEN
    UPDATE permits SET state = 'open', state_at = e.at, issued_at = e.at, issued_by = e.person_id,
      valid_until = (e.data ->> 'validUntil')::timestamptz, last_cut_by = (e.data ->> 'lastCutBy')::timestamptz,
      watch_required = (e.data ->> 'watchRequired')::boolean, watch_minutes = ceil((duties ->> 'watchMin')::numeric),
      round_interval_min = floor((duties ->> 'roundIntervalMin')::numeric), monitoring_minutes = ceil((duties ->> 'monitoringMin')::numeric),
      final_look_minutes = ceil((duties ->> 'finalLookMin')::numeric), statement_required = (duties ->> 'statementRequired')::boolean,
      gas_test_required = (duties ->> 'gasTestNeeded')::boolean, gas_test_valid_min = floor((duties ->> 'gasTestValidMin')::numeric),
      frozen = e.data
    WHERE id = p.id;
    PERFORM kerf_begin_work(p, e.at);
    IF p.fire_watch_id IS NOT NULL THEN
      INSERT INTO stints (id, site_id, permit_id, person_id, role, slot, from_at)
      VALUES (gen_random_uuid(), p.site_id, p.id, p.fire_watch_id, 'fire_watch', kerf_watch_slot(p.area_id), e.at);
    END IF;
  WHEN 'held' THEN
    IF p.state = 'open' THEN
      PERFORM kerf_end_work(p, e.at);
      UPDATE permits SET state = 'held', state_at = e.at, held_at = e.at, torch_out_at = e.at, survey_no = survey_no + 1,
        hold_reason = coalesce(e.data ->> 'reason', CASE WHEN e.data @> '{"stop": true}' THEN 'stop' END) WHERE id = p.id;
    END IF;
    IF e.data @> '{"stop": true}' THEN
      UPDATE permits SET stop_pressed_at = coalesce(stop_pressed_at, e.at) WHERE id = p.id;
      PERFORM kerf_notify_people(p.site_id, 'stop_pressed', p.id, '{}', 'stop:' || e.id);
    END IF;
  WHEN 'resumed', 'reopened' THEN
    UPDATE permits SET state = 'open', state_at = e.at, torch_out_at = NULL, held_at = NULL, hold_reason = NULL, watch_at = NULL, stop_pressed_at = NULL WHERE id = p.id;
    PERFORM kerf_begin_work(p, e.at);
  WHEN 'work_ended' THEN PERFORM kerf_enter_watch(p, e.at, e.at);
  WHEN 'expired' THEN
    PERFORM kerf_enter_watch(p, e.at, p.valid_until);
    UPDATE permits SET expired_at = p.valid_until WHERE id = p.id;
    PERFORM kerf_notify_people(p.site_id, 'permit_expired', p.id, '{}', 'expired:' || p.id);
  WHEN 'stopped' THEN
    IF p.state IN ('open', 'held') THEN PERFORM kerf_enter_watch(p, e.at, e.at); END IF;
    UPDATE permits SET stopped_at = e.at,
      state = CASE WHEN p.state IN ('preparing', 'cleared') THEN 'withdrawn' ELSE state END,
      withdrawn_at = CASE WHEN p.state IN ('preparing', 'cleared') THEN e.at END WHERE id = p.id;
    PERFORM kerf_notify_people(p.site_id, 'stop_pressed', p.id, '{"final": true}', 'stopped:' || p.id);
  WHEN 'stop_withdrawn' THEN UPDATE permits SET stop_pressed_at = NULL WHERE id = p.id;
  WHEN 'operator_on' THEN
    INSERT INTO stints (id, site_id, permit_id, person_id, role, slot, from_at) VALUES (gen_random_uuid(), p.site_id, p.id, e.subject_id, 'operator', 'cut:' || p.area_id, e.at);
  WHEN 'watch_on' THEN
    INSERT INTO stints (id, site_id, permit_id, person_id, role, slot, from_at) VALUES (gen_random_uuid(), p.site_id, p.id, e.subject_id, 'fire_watch', kerf_watch_slot(p.area_id), e.at);
  WHEN 'operator_off' THEN UPDATE stints SET to_at = greatest(from_at, e.at) WHERE permit_id = p.id AND person_id = e.subject_id AND role = 'operator' AND to_at IS NULL;
  WHEN 'watch_off' THEN UPDATE stints SET to_at = greatest(from_at, e.at) WHERE permit_id = p.id AND person_id = e.subject_id AND role = 'fire_watch' AND to_at IS NULL;
  WHEN 'watch_restarted' THEN
    -- From the minute the torch burned or the smoke was seen; never back in time.
    UPDATE permits SET torch_out_at = greatest(torch_out_at, least(e.at, coalesce((e.data ->> 'from')::timestamptz, e.at))) WHERE id = p.id;
  WHEN 'closed' THEN
    UPDATE stints SET to_at = greatest(from_at, e.at) WHERE permit_id = p.id AND to_at IS NULL;
    UPDATE permits SET state = 'closed', state_at = e.at, closed_at = e.at WHERE id = p.id;
  WHEN 'withdrawn' THEN UPDATE permits SET state = 'withdrawn', state_at = e.at, withdrawn_at = e.at WHERE id = p.id;
  ELSE NULL;
  END CASE;
END $$;

CREATE FUNCTION kerf_permit_event() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
  is_stop boolean := NEW.kind = 'held' AND NEW.data @> '{"stop": true}';
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  NEW.at := kerf_now(); NEW.seq := p.last_event_seq + 1; NEW.site_id := p.site_id;
  IF jsonb_typeof(NEW.data) <> 'object' THEN PERFORM kerf_refuse('EVENT_DATA'); END IF;
  IF p.last_event_seq = 0 AND NEW.kind <> 'prepared' THEN reasons := kerf_reason('NOT_PREPARED'); END IF;
  IF NEW.kind IN ('watch_on', 'watch_off', 'operator_on', 'operator_off') AND NEW.subject_id IS NULL THEN NEW.subject_id := NEW.person_id; END IF;
  -- Stop work is for everyone at any time before the end; it never waits for a state.
  IF is_stop AND p.state IN ('preparing', 'cleared', 'held', 'watch') THEN
    NULL;
  ELSIF p.state <> ALL (kerf_event_states(NEW.kind)) THEN
    PERFORM kerf_refuse_all(reasons || kerf_reason('WRONG_STATE', jsonb_build_object('state', p.state, 'kind', NEW.kind)));
  ELSE
    reasons := reasons || kerf_event_reasons(p, NEW);
  END IF;
  PERFORM kerf_refuse_all(reasons);
  UPDATE permits SET last_event_seq = NEW.seq WHERE id = p.id;
  PERFORM kerf_event_apply(p, NEW);
  RETURN NEW;
END $$;
CREATE TRIGGER permit_event BEFORE INSERT ON permit_events FOR EACH ROW EXECUTE FUNCTION kerf_permit_event();

-- ── Hot work, and work outside any permit ─────────────────────────────────────

CREATE FUNCTION kerf_hot_work_log() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  area areas%ROWTYPE;
  old_log hot_work_logs%ROWTYPE;
  reasons jsonb := '[]';
  worked tstzrange;
  open_time tstzmultirange;
  cutting tstzmultirange;
BEGIN
  IF NEW.permit_id IS NOT NULL THEN p := kerf_lock_permit(NEW.permit_id); END IF;
  SELECT * INTO area FROM areas WHERE id = NEW.area_id;
  NEW.recorded_at := kerf_now(); NEW.site_id := area.site_id;
  NEW.late := NEW.recorded_at > NEW.to_at + interval '30 minutes';
  IF NEW.from_at >= NEW.to_at THEN PERFORM kerf_refuse('TIMES_REVERSED'); END IF;
  IF NEW.to_at > NEW.recorded_at THEN PERFORM kerf_refuse('IN_FUTURE'); END IF;
  worked := tstzrange(NEW.from_at, NEW.to_at);
  IF area.id IS NULL OR NOT EXISTS (SELECT 1 FROM jobs j WHERE j.id = NEW.job_id AND j.site_id = area.site_id) THEN reasons := reasons || kerf_reason('JOB_OTHER_SITE'); END IF;
  IF NEW.permit_id IS NULL THEN
    IF area.area_class <> 'designated' THEN reasons := reasons || kerf_reason('PERMIT_NEEDED', jsonb_build_object('area', area.name)); END IF;
    IF EXISTS (SELECT 1 FROM stints s WHERE s.person_id = NEW.operator_id AND s.slot <> 'cut:' || NEW.area_id AND tstzrange(s.from_at, s.to_at) && worked) THEN
      reasons := reasons || kerf_reason('PERSON_ELSEWHERE', jsonb_build_object('personId', NEW.operator_id));
    END IF;
  ELSE
    IF p.area_id <> NEW.area_id THEN reasons := reasons || kerf_reason('WRONG_AREA'); END IF;
    IF p.job_id <> NEW.job_id THEN reasons := reasons || kerf_reason('WRONG_JOB'); END IF;
    SELECT range_agg(tstzrange(o.from_at, least(o.to_at, p.valid_until))) INTO open_time FROM permit_open_spans o WHERE o.permit_id = p.id;
    IF NOT coalesce(open_time @> worked, false) THEN reasons := reasons || kerf_reason('NOT_OPEN', jsonb_build_object('fromAt', kerf_ms(NEW.from_at), 'toAt', kerf_ms(NEW.to_at))); END IF;
    SELECT range_agg(tstzrange(s.from_at, s.to_at)) INTO cutting FROM stints s WHERE s.permit_id = p.id AND s.role = 'operator' AND s.person_id = NEW.operator_id;
    IF NOT coalesce(cutting @> worked, false) THEN reasons := reasons || kerf_reason('NOT_OPERATOR', jsonb_build_object('personId', NEW.operator_id)); END IF;
  END IF;
  reasons := reasons || kerf_person_reasons(NEW.operator_id, 'torch_operator', kerf_site_day(area.site_id, NEW.from_at));
  IF NEW.corrects_id IS NOT NULL THEN
    SELECT * INTO old_log FROM hot_work_logs WHERE id = NEW.corrects_id;
    IF old_log.id IS NULL OR old_log.job_id <> NEW.job_id THEN reasons := reasons || kerf_reason('CORRECTS_UNKNOWN'); END IF;
    IF EXISTS (SELECT 1 FROM hot_work_logs l WHERE l.corrects_id = NEW.corrects_id) THEN reasons := reasons || kerf_reason('ALREADY_CORRECTED'); END IF;
    IF EXISTS (SELECT 1 FROM hot_work_logs l WHERE l.operator_id = NEW.operator_id AND l.area_id <> NEW.area_id AND l.id <> NEW.corrects_id AND tstzrange(l.from_at, l.to_at) && worked) THEN
      reasons := reasons || kerf_reason('PERSON_ELSEWHERE', jsonb_build_object('personId', NEW.operator_id));
    END IF;
  END IF;
  IF NEW.cut_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM cuts c JOIN cut_lists l ON l.id = c.cut_list_id WHERE c.id = NEW.cut_id AND l.job_id = NEW.job_id) THEN
    reasons := reasons || kerf_reason('CUT_OTHER_JOB');
  END IF;
  PERFORM kerf_refuse_all(reasons);
  IF old_log.cut_id IS NOT NULL THEN UPDATE cuts SET done_count = greatest(0, done_count - old_log.pieces) WHERE id = old_log.cut_id; END IF;
  IF NEW.cut_id IS NOT NULL THEN UPDATE cuts SET done_count = done_count + NEW.pieces WHERE id = NEW.cut_id; END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER hot_work_log BEFORE INSERT ON hot_work_logs FOR EACH ROW EXECUTE FUNCTION kerf_hot_work_log();

-- Always accepted when it makes sense: what happened is a fact, and never counts as permitted.
CREATE FUNCTION kerf_work_outside() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  site uuid;
  reasons jsonb := '[]';
BEGIN
  SELECT a.site_id INTO site FROM areas a WHERE a.id = NEW.area_id;
  PERFORM 1 FROM permits p WHERE p.id = NEW.permit_id OR (p.area_id = NEW.area_id AND p.state IN ('open', 'held', 'watch')) ORDER BY p.id FOR NO KEY UPDATE;
  NEW.recorded_at := kerf_now(); NEW.site_id := site;
  IF NEW.from_at >= NEW.to_at THEN reasons := reasons || kerf_reason('TIMES_REVERSED'); END IF;
  IF NEW.to_at > NEW.recorded_at THEN reasons := reasons || kerf_reason('IN_FUTURE'); END IF;
  IF NEW.permit_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM permits p WHERE p.id = NEW.permit_id AND p.site_id = site) THEN reasons := reasons || kerf_reason('PERMIT_UNKNOWN'); END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER work_outside BEFORE INSERT ON work_outside_permit FOR EACH ROW EXECUTE FUNCTION kerf_work_outside();

CREATE FUNCTION kerf_work_outside_follows() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  PERFORM kerf_notify_people(NEW.site_id, 'work_outside_permit', NEW.id, jsonb_build_object('areaId', NEW.area_id), 'outside:' || NEW.id);
  INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
  SELECT gen_random_uuid(), NEW.site_id, p.id, 'watch_restarted', NEW.person_id, NEW.role_then, NEW.id,
         jsonb_build_object('because', 'work_outside_permit', 'from', NEW.to_at)
  FROM permits p
  WHERE (p.id = NEW.permit_id OR p.area_id = NEW.area_id) AND p.state IN ('held', 'watch') AND p.torch_out_at < NEW.to_at
  ORDER BY p.id;
  RETURN NULL;
END $$;
CREATE TRIGGER work_outside_follows AFTER INSERT ON work_outside_permit FOR EACH ROW EXECUTE FUNCTION kerf_work_outside_follows();

-- ── Cylinders ─────────────────────────────────────────────────────────────────

-- Cylinder registered: its state comes from its events alone.
CREATE FUNCTION kerf_cylinder_new() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.created_at := kerf_now(); NEW.site_id := NULL; NEW.area_id := NULL; NEW.outfit_id := NULL; NEW.side := NULL; NEW.place := NULL;
  NEW.status := 'new'; NEW.contents_kg := NULL; NEW.contents_u_kg := NULL; NEW.last_reading_at := NULL; NEW.arrived_at := NULL; NEW.last_seq := 0;
  IF NOT EXISTS (SELECT 1 FROM cylinder_sizes s WHERE s.id = NEW.size_id AND s.gas_id = NEW.gas_id) THEN PERFORM kerf_refuse('SIZE_OTHER_GAS'); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER cylinder_new BEFORE INSERT ON cylinders FOR EACH ROW EXECUTE FUNCTION kerf_cylinder_new();

-- Full from nine tenths of the nominal contents (house judgement, no source); empty at the heel of its size.
CREATE FUNCTION kerf_fill_status(contents_kg float, s cylinder_sizes) RETURNS text LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT CASE WHEN contents_kg IS NULL OR contents_kg >= 0.9 * s.nominal_kg THEN 'full' WHEN contents_kg <= s.heel_kg THEN 'empty' ELSE 'partial' END
$$;

-- Past due from the first day after the due month.
CREATE FUNCTION kerf_past_due(due_month date, day date) RETURNS boolean LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT coalesce(day >= (due_month + interval '1 month')::date, false)
$$;

-- Why this cannot have happened to this cylinder; empty when it can.
CREATE FUNCTION kerf_cylinder_reasons(c cylinders, e cylinder_events) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb := '[]';
  params jsonb := jsonb_build_object('serial', c.serial);
  o outfits%ROWTYPE;
  swap swaps%ROWTYPE;
  here text[] := ARRAY['full', 'partial', 'empty', 'quarantined'];
  allowed text[] := CASE e.kind
    WHEN 'received' THEN ARRAY['new', 'returned', 'at_test', 'in_transit']
    WHEN 'moved' THEN here WHEN 'returned' THEN here WHEN 'sent_for_test' THEN here
    WHEN 'loaded' THEN ARRAY['full', 'partial', 'empty'] WHEN 'unloaded' THEN ARRAY['in_transit']
    WHEN 'put_on' THEN ARRAY['full', 'partial'] WHEN 'taken_off' THEN ARRAY['in_use']
    WHEN 'read' THEN here || ARRAY['in_use'] WHEN 'quarantined' THEN ARRAY['full', 'partial', 'empty'] WHEN 'released' THEN ARRAY['quarantined']
    WHEN 'requalified' THEN here || ARRAY['at_test', 'new', 'returned'] WHEN 'filled' THEN ARRAY['full', 'partial', 'empty', 'at_test', 'new', 'returned']
    WHEN 'lost' THEN here || ARRAY['in_use', 'in_transit', 'at_test', 'returned'] WHEN 'found' THEN ARRAY['lost']
    WHEN 'scrapped' THEN here || ARRAY['at_test', 'returned', 'lost', 'new']
    WHEN 'found_on' THEN here || ARRAY['in_use', 'in_transit', 'lost', 'new', 'returned', 'at_test']
    ELSE here || ARRAY['in_use', 'in_transit', 'returned', 'at_test', 'lost', 'new'] END;
BEGIN
  IF c.status = 'in_use' AND e.kind IN ('moved', 'loaded', 'put_on', 'returned', 'quarantined', 'sent_for_test', 'scrapped', 'requalified', 'filled', 'received') THEN
    RETURN kerf_reason('CYLINDER_ON_OUTFIT', params || jsonb_build_object('outfitId', c.outfit_id));
  END IF;
  IF c.status <> ALL (allowed) THEN
    RETURN kerf_reason(CASE WHEN c.status = 'empty' AND e.kind = 'put_on' THEN 'CYLINDER_EMPTY' WHEN c.status = 'quarantined' THEN 'CYLINDER_QUARANTINED'
      WHEN e.kind = 'received' THEN 'CYLINDER_HERE' ELSE 'CYLINDER_STATUS' END, params || jsonb_build_object('status', c.status, 'kind', e.kind));
  END IF;
  IF c.site_id IS DISTINCT FROM e.site_id AND e.kind NOT IN ('received', 'unloaded', 'found', 'found_on', 'corrected', 'requalified', 'filled', 'scrapped', 'lost') THEN
    reasons := reasons || kerf_reason('CYLINDER_ELSEWHERE', params);
  END IF;
  IF e.area_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM areas a WHERE a.id = e.area_id AND a.site_id = coalesce(e.to_site_id, e.site_id)) THEN
    reasons := reasons || kerf_reason('AREA_OTHER_SITE');
  END IF;
  IF e.kind = 'loaded' AND e.to_site_id IS NULL THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "toSiteId"}'); END IF;
  IF e.kind = 'read' AND e.contents_kg IS NULL AND NOT e.marked_empty THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "contentsKg"}'); END IF;
  IF e.kind IN ('quarantined', 'lost', 'found_on', 'scrapped') AND coalesce(e.reason, '') = '' THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "reason"}'); END IF;
  IF e.kind = 'requalified' AND (e.requalified_on IS NULL OR e.due_month IS NULL OR e.due_month <= e.requalified_on) THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "dueMonth"}'); END IF;
  IF e.kind = 'filled' THEN
    IF e.filled_on IS NULL THEN reasons := reasons || kerf_reason('FIELD_MISSING', '{"field": "filledOn"}');
    ELSIF kerf_past_due(c.due_month, e.filled_on) THEN reasons := reasons || kerf_reason('PAST_DUE', params || jsonb_build_object('dueMonth', c.due_month)); END IF;
  END IF;
  -- Past its due month a full one is taken in only if it was filled before.
  IF e.kind = 'received' AND NOT e.marked_empty AND kerf_past_due(c.due_month, kerf_site_day(e.site_id, e.at))
     AND (coalesce(e.filled_on, c.filled_on) IS NULL OR kerf_past_due(c.due_month, coalesce(e.filled_on, c.filled_on))) THEN
    reasons := reasons || kerf_reason('PAST_DUE', params || jsonb_build_object('dueMonth', c.due_month));
  END IF;
  IF e.kind = 'taken_off' AND e.outfit_id IS DISTINCT FROM c.outfit_id THEN reasons := reasons || kerf_reason('NOT_ON_OUTFIT', params); END IF;
  IF e.kind = 'corrected' AND NOT EXISTS (SELECT 1 FROM cylinder_events x WHERE x.id = e.corrects_id AND x.cylinder_id = c.id) THEN
    reasons := reasons || kerf_reason('CORRECTS_UNKNOWN');
  END IF;
  IF e.kind IN ('put_on', 'found_on') THEN
    SELECT * INTO o FROM outfits x WHERE x.id = e.outfit_id;
    IF o.id IS NULL OR o.site_id <> e.site_id THEN reasons := reasons || kerf_reason('OUTFIT_OTHER_SITE'); END IF;
    IF e.side NOT IN ('oxygen', 'fuel') OR e.side IS NULL OR e.place IS NULL OR e.place NOT BETWEEN 1 AND (CASE e.side WHEN 'oxygen' THEN o.oxygen_places ELSE o.fuel_places END) THEN
      reasons := reasons || kerf_reason('NO_SUCH_PLACE', jsonb_build_object('place', coalesce(e.place, 0)));
    END IF;
    IF EXISTS (SELECT 1 FROM cylinders x WHERE x.outfit_id = e.outfit_id AND x.side = e.side AND x.place = e.place AND x.id <> c.id) THEN
      reasons := reasons || kerf_reason('PLACE_TAKEN', jsonb_build_object('place', e.place));
    END IF;
  END IF;
  IF e.kind = 'put_on' THEN
    IF o.state <> 'in_service' THEN reasons := reasons || kerf_reason('OUTFIT_OUT_OF_SERVICE', jsonb_build_object('number', o.number, 'reason', coalesce(o.state_reason, ''))); END IF;
    IF c.gas_id <> (CASE e.side WHEN 'oxygen' THEN 'oxygen' ELSE o.fuel_gas_id END) THEN
      reasons := reasons || kerf_reason('WRONG_GAS', params || jsonb_build_object('gas', c.gas_id, 'wanted', CASE e.side WHEN 'oxygen' THEN 'oxygen' ELSE o.fuel_gas_id END));
    END IF;
    SELECT * INTO swap FROM swaps x WHERE x.id = e.swap_id;
    IF swap.id IS NULL OR swap.on_cylinder_id <> c.id OR swap.outfit_id <> e.outfit_id OR swap.side <> e.side THEN reasons := reasons || kerf_reason('SWAP_MISSING'); END IF;
  END IF;
  RETURN reasons;
END $$;

-- What the cylinder is afterwards. bin/verify.mjs replays the same from the events and compares.
CREATE FUNCTION kerf_cylinder_next(c cylinders, e cylinder_events, s cylinder_sizes, hung_wrong boolean) RETURNS cylinders LANGUAGE plpgsql IMMUTABLE SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  c.last_seq := e.seq;
  IF e.marked_empty THEN c.contents_kg := coalesce(e.contents_kg, s.heel_kg); c.contents_u_kg := coalesce(e.contents_u_kg, s.heel_kg); c.last_reading_at := e.at;
  ELSIF e.contents_kg IS NOT NULL THEN c.contents_kg := e.contents_kg; c.contents_u_kg := e.contents_u_kg; c.last_reading_at := e.at;
  END IF;
  CASE e.kind
  WHEN 'received' THEN
    c.site_id := e.site_id; c.area_id := e.area_id; c.arrived_at := e.at; c.filled_on := coalesce(e.filled_on, c.filled_on);
    IF NOT e.marked_empty AND e.contents_kg IS NULL THEN c.contents_kg := s.nominal_kg; c.contents_u_kg := NULL; c.last_reading_at := NULL; END IF;
    c.status := CASE WHEN e.marked_empty THEN 'empty' ELSE kerf_fill_status(c.contents_kg, s) END;
  WHEN 'moved' THEN
    IF e.to_site_id IS NOT NULL AND e.to_site_id <> c.site_id THEN c.site_id := e.to_site_id; c.arrived_at := e.at; END IF;
    c.area_id := e.area_id;
  WHEN 'loaded' THEN c.status := 'in_transit'; c.area_id := NULL;
  WHEN 'unloaded' THEN c.site_id := e.site_id; c.area_id := e.area_id; c.arrived_at := e.at; c.status := kerf_fill_status(c.contents_kg, s);
  WHEN 'put_on' THEN c.status := 'in_use'; c.outfit_id := e.outfit_id; c.side := e.side; c.place := e.place; c.area_id := NULL;
  WHEN 'found_on' THEN
    IF c.site_id IS DISTINCT FROM e.site_id THEN c.site_id := e.site_id; c.arrived_at := e.at; END IF;
    c.status := 'in_use'; c.outfit_id := e.outfit_id; c.side := e.side; c.place := e.place; c.area_id := NULL;
  WHEN 'taken_off' THEN
    c.outfit_id := NULL; c.side := NULL; c.place := NULL; c.area_id := e.area_id;
    -- What hung where it should not is looked at before anybody uses it again.
    c.status := CASE WHEN hung_wrong THEN 'quarantined' WHEN e.marked_empty THEN 'empty' ELSE kerf_fill_status(c.contents_kg, s) END;
  WHEN 'quarantined' THEN c.status := 'quarantined';
  WHEN 'released' THEN c.status := kerf_fill_status(c.contents_kg, s);
  WHEN 'read', 'corrected' THEN
    IF c.status IN ('full', 'partial', 'empty') THEN c.status := CASE WHEN e.marked_empty THEN 'empty' ELSE kerf_fill_status(c.contents_kg, s) END; END IF;
  WHEN 'requalified' THEN c.requalified_on := e.requalified_on; c.due_month := e.due_month;
  WHEN 'filled' THEN
    c.filled_on := e.filled_on; c.contents_kg := coalesce(e.contents_kg, s.nominal_kg);
    IF c.status IN ('partial', 'empty') THEN c.status := 'full'; END IF;
  WHEN 'found' THEN c.site_id := e.site_id; c.area_id := e.area_id; c.arrived_at := e.at; c.status := kerf_fill_status(c.contents_kg, s);
  WHEN 'returned' THEN c.status := 'returned'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL;
  WHEN 'sent_for_test' THEN c.status := 'at_test'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL;
  WHEN 'lost' THEN
    c.status := 'lost'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL; c.outfit_id := NULL; c.side := NULL; c.place := NULL;
  WHEN 'scrapped' THEN c.status := 'scrapped'; c.site_id := NULL; c.area_id := NULL; c.arrived_at := NULL;
  END CASE;
  RETURN c;
END $$;

-- Whether it hangs where it was found rather than where it was put.
CREATE FUNCTION kerf_hung_wrong(cylinder uuid, before_seq int) RETURNS boolean LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce((SELECT x.kind = 'found_on' FROM cylinder_events x
    WHERE x.cylinder_id = cylinder AND x.seq < before_seq AND x.kind IN ('put_on', 'found_on') ORDER BY x.seq DESC LIMIT 1), false)
$$;

CREATE FUNCTION kerf_cylinder_store(c cylinders) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  UPDATE cylinders SET site_id = c.site_id, area_id = c.area_id, outfit_id = c.outfit_id, side = c.side, place = c.place, status = c.status,
    contents_kg = c.contents_kg, contents_u_kg = c.contents_u_kg, last_reading_at = c.last_reading_at, filled_on = c.filled_on,
    arrived_at = c.arrived_at, requalified_on = c.requalified_on, due_month = c.due_month, last_seq = c.last_seq
  WHERE id = c.id
$$;

CREATE FUNCTION kerf_cylinder_event() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  c cylinders%ROWTYPE;
  s cylinder_sizes%ROWTYPE;
  last_at timestamptz;
BEGIN
  SELECT * INTO c FROM cylinders WHERE id = NEW.cylinder_id FOR NO KEY UPDATE;
  IF c.id IS NULL THEN PERFORM kerf_refuse('CYLINDER_UNKNOWN'); END IF;
  IF NEW.kind IN ('put_on', 'found_on') THEN PERFORM 1 FROM outfits WHERE id = NEW.outfit_id FOR NO KEY UPDATE; END IF;
  NEW.recorded_at := kerf_now(); NEW.seq := c.last_seq + 1;
  -- The column's default was the clock before the lock was held; what happened just now cannot precede what the lock waited for.
  SELECT x.at INTO last_at FROM cylinder_events x WHERE x.cylinder_id = c.id AND x.seq = c.last_seq;
  IF NEW.at > NEW.recorded_at THEN PERFORM kerf_refuse('IN_FUTURE'); END IF;
  IF NEW.at < last_at AND NEW.at > NEW.recorded_at - interval '30 seconds' THEN NEW.at := last_at; END IF;
  IF NEW.at < last_at THEN PERFORM kerf_refuse('OUT_OF_ORDER', jsonb_build_object('serial', c.serial, 'lastAt', kerf_ms(last_at))); END IF;
  PERFORM kerf_refuse_all(kerf_cylinder_reasons(c, NEW));
  SELECT * INTO s FROM cylinder_sizes WHERE id = c.size_id;
  PERFORM kerf_cylinder_store(kerf_cylinder_next(c, NEW, s, NEW.kind = 'taken_off' AND kerf_hung_wrong(c.id, NEW.seq)));
  IF NEW.kind = 'found_on' THEN
    INSERT INTO outfit_events (id, outfit_id, site_id, kind, person_id, role_then, reason, data)
    VALUES (gen_random_uuid(), NEW.outfit_id, NEW.site_id, 'out_of_service', NEW.person_id, NEW.role_then, 'found_on', jsonb_build_object('cylinderEventId', NEW.id));
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER cylinder_event BEFORE INSERT ON cylinder_events FOR EACH ROW EXECUTE FUNCTION kerf_cylinder_event();

-- One act: both cylinders locked in id order, then one event for each.
CREATE FUNCTION kerf_swap() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  o outfits%ROWTYPE;
  reasons jsonb := '[]';
BEGIN
  PERFORM 1 FROM cylinders WHERE id IN (NEW.off_cylinder_id, NEW.on_cylinder_id) ORDER BY id FOR NO KEY UPDATE;
  SELECT * INTO o FROM outfits WHERE id = NEW.outfit_id;
  NEW.at := kerf_now();
  IF o.id IS NULL THEN PERFORM kerf_refuse('OUTFIT_OTHER_SITE'); END IF;
  NEW.site_id := o.site_id;
  IF NOT (NEW.shut_and_bled AND NEW.leak_tested) THEN reasons := reasons || kerf_reason('LEAK_TEST_MISSING'); END IF;
  IF NEW.off_cylinder_id IS NOT NULL AND NOT EXISTS (
       SELECT 1 FROM cylinders c WHERE c.id = NEW.off_cylinder_id AND c.outfit_id = NEW.outfit_id AND c.side = NEW.side) THEN
    reasons := reasons || kerf_reason('NOT_ON_OUTFIT', jsonb_build_object('serial', coalesce((SELECT c.serial FROM cylinders c WHERE c.id = NEW.off_cylinder_id), '')));
  END IF;
  SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'CYLINDER_ON_OUTFIT', 'params', jsonb_build_object('serial', c.serial, 'outfitId', c.outfit_id))), '[]')
    INTO reasons FROM cylinders c WHERE c.id = NEW.on_cylinder_id AND c.outfit_id IS NOT NULL;
  IF NEW.permit_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM permits p WHERE p.id = NEW.permit_id AND p.site_id = o.site_id) THEN
    reasons := reasons || kerf_reason('PERMIT_UNKNOWN');
  END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER swap BEFORE INSERT ON swaps FOR EACH ROW EXECUTE FUNCTION kerf_swap();

-- Half a swap cannot be committed.
CREATE FUNCTION kerf_swap_whole() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM cylinder_events e WHERE e.swap_id = NEW.id AND e.kind = 'put_on' AND e.cylinder_id = NEW.on_cylinder_id)
     OR (NEW.off_cylinder_id IS NOT NULL AND NOT EXISTS (
       SELECT 1 FROM cylinder_events e WHERE e.swap_id = NEW.id AND e.kind = 'taken_off' AND e.cylinder_id = NEW.off_cylinder_id)) THEN
    PERFORM kerf_refuse('SWAP_INCOMPLETE');
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER swap_whole AFTER INSERT ON swaps DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_swap_whole();
CREATE INDEX cylinder_events_swap ON cylinder_events (swap_id) WHERE swap_id IS NOT NULL;

-- For the owner, after events were loaded with the triggers off: numbers them and derives every cylinder's state.
CREATE FUNCTION kerf_rebuild_cylinders() RETURNS bigint LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  c cylinders%ROWTYPE;
  s cylinder_sizes%ROWTYPE;
  e cylinder_events%ROWTYPE;
  hung_wrong boolean;
  done bigint := 0;
BEGIN
  FOR c IN SELECT * FROM cylinders LOOP
    SELECT * INTO s FROM cylinder_sizes WHERE id = c.size_id;
    c.site_id := NULL; c.area_id := NULL; c.outfit_id := NULL; c.side := NULL; c.place := NULL; c.status := 'new';
    c.contents_kg := NULL; c.contents_u_kg := NULL; c.last_reading_at := NULL; c.arrived_at := NULL; c.last_seq := 0;
    hung_wrong := false;
    FOR e IN SELECT * FROM cylinder_events x WHERE x.cylinder_id = c.id ORDER BY x.seq LOOP
      IF e.kind IN ('put_on', 'found_on') THEN hung_wrong := e.kind = 'found_on'; END IF;
      c := kerf_cylinder_next(c, e, s, e.kind = 'taken_off' AND hung_wrong);
      done := done + 1;
    END LOOP;
    PERFORM kerf_cylinder_store(c);
  END LOOP;
  RETURN done;
END $$;

-- ── Outfits, cuts, orders, people ─────────────────────────────────────────────

CREATE FUNCTION kerf_outfit_event() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  o outfits%ROWTYPE;
  reasons jsonb := '[]';
  out_since timestamptz;
BEGIN
  SELECT * INTO o FROM outfits WHERE id = NEW.outfit_id FOR NO KEY UPDATE;
  IF o.id IS NULL THEN PERFORM kerf_refuse('OUTFIT_OTHER_SITE'); END IF;
  NEW.at := kerf_now(); NEW.site_id := o.site_id;
  IF NEW.kind IN ('out_of_service', 'flashback') THEN
    UPDATE outfits SET state = 'out_of_service', state_reason = NEW.reason WHERE id = o.id;
  ELSIF NEW.kind = 'back_in_service' THEN
    SELECT max(e.at) INTO out_since FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind IN ('out_of_service', 'flashback');
    IF o.state = 'in_service' THEN reasons := reasons || kerf_reason('OUTFIT_IN_SERVICE', jsonb_build_object('number', o.number)); END IF;
    IF NOT EXISTS (SELECT 1 FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind = 'inspected' AND e.at >= out_since) THEN reasons := reasons || kerf_reason('INSPECTION_MISSING'); END IF;
    IF NOT EXISTS (SELECT 1 FROM outfit_events e WHERE e.outfit_id = o.id AND e.kind = 'leak_tested' AND e.at >= out_since) THEN reasons := reasons || kerf_reason('LEAK_TEST_MISSING'); END IF;
    SELECT reasons || coalesce(jsonb_agg(jsonb_build_object('code', 'WRONG_CYLINDER_ON', 'params', jsonb_build_object('serial', c.serial))), '[]') INTO reasons
    FROM cylinders c WHERE c.outfit_id = o.id AND kerf_hung_wrong(c.id, c.last_seq + 1);
    PERFORM kerf_refuse_all(reasons);
    UPDATE outfits SET state = 'in_service', state_reason = NULL WHERE id = o.id;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER outfit_event BEFORE INSERT ON outfit_events FOR EACH ROW EXECUTE FUNCTION kerf_outfit_event();

CREATE FUNCTION kerf_outfit_keeps() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'INSERT' THEN NEW.state := 'in_service'; NEW.state_reason := NULL; RETURN NEW; END IF;
  IF NEW.site_id <> OLD.site_id OR NEW.fuel_gas_id <> OLD.fuel_gas_id OR NEW.oxygen_places < OLD.oxygen_places OR NEW.fuel_places < OLD.fuel_places THEN
    IF EXISTS (SELECT 1 FROM cylinders c WHERE c.outfit_id = OLD.id) THEN PERFORM kerf_refuse('OUTFIT_HAS_CYLINDERS', jsonb_build_object('number', OLD.number)); END IF;
    IF EXISTS (SELECT 1 FROM permits p WHERE p.outfit_id = OLD.id AND p.state IN ('open', 'held')) THEN PERFORM kerf_refuse('OUTFIT_ON_PERMIT', jsonb_build_object('number', OLD.number)); END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER outfit_keeps BEFORE INSERT OR UPDATE ON outfits FOR EACH ROW EXECUTE FUNCTION kerf_outfit_keeps();

-- A cut that was worked on stays in its list.
CREATE FUNCTION kerf_cut_keeps() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'INSERT' THEN
    NEW.done_count := 0;
    SELECT l.site_id INTO NEW.site_id FROM cut_lists l WHERE l.id = NEW.cut_list_id;
    RETURN NEW;
  END IF;
  IF OLD.done_count > 0 OR EXISTS (SELECT 1 FROM hot_work_logs h WHERE h.cut_id = OLD.id) THEN PERFORM kerf_refuse('CUT_HAS_WORK'); END IF;
  RETURN OLD;
END $$;
CREATE TRIGGER cut_keeps BEFORE INSERT OR DELETE ON cuts FOR EACH ROW EXECUTE FUNCTION kerf_cut_keeps();
CREATE INDEX hot_work_logs_cut ON hot_work_logs (cut_id) WHERE cut_id IS NOT NULL;

CREATE FUNCTION kerf_order_keeps() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF TG_OP = 'INSERT' THEN NEW.state := 'confirmed'; NEW.confirmed_at := kerf_now(); RETURN NEW; END IF;
  IF OLD.state <> 'confirmed' AND NEW.state <> OLD.state THEN PERFORM kerf_refuse('ORDER_OVER', jsonb_build_object('state', OLD.state)); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER order_keeps BEFORE INSERT OR UPDATE ON orders FOR EACH ROW EXECUTE FUNCTION kerf_order_keeps();

-- A session dies with the person's account and with any change of their grants or password.
CREATE FUNCTION kerf_person_epoch() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  NEW.session_epoch := OLD.session_epoch;
  IF NEW.disabled_at IS DISTINCT FROM OLD.disabled_at OR NEW.password_hash IS DISTINCT FROM OLD.password_hash THEN NEW.session_epoch := OLD.session_epoch + 1; END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER person_epoch BEFORE UPDATE OF disabled_at, password_hash ON people FOR EACH ROW EXECUTE FUNCTION kerf_person_epoch();

CREATE FUNCTION kerf_grant_epoch() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  UPDATE people SET session_epoch = session_epoch + 1 WHERE id = NEW.person_id;
  RETURN NULL;
END $$;
CREATE TRIGGER grant_epoch AFTER INSERT OR UPDATE ON grants FOR EACH ROW EXECUTE FUNCTION kerf_grant_epoch();

-- Ends once, now: a grant, a ruleset in force.
CREATE FUNCTION kerf_ends_once() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF to_jsonb(OLD) ->> TG_ARGV[0] IS NOT NULL THEN PERFORM kerf_refuse('ALREADY_ENDED', jsonb_build_object('table', TG_TABLE_NAME)); END IF;
  IF to_jsonb(NEW) ->> TG_ARGV[0] IS NULL THEN RETURN NEW; END IF;
  RETURN jsonb_populate_record(NEW, jsonb_build_object(TG_ARGV[0], kerf_now()));
END $$;
CREATE TRIGGER ends_once BEFORE UPDATE ON grants FOR EACH ROW EXECUTE FUNCTION kerf_ends_once('revoked_at');
CREATE TRIGGER ends_once BEFORE UPDATE ON site_rulesets FOR EACH ROW EXECUTE FUNCTION kerf_ends_once('to_at');

-- A stored result stays what it was.
CREATE FUNCTION kerf_client_key_keeps() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
BEGIN
  IF OLD.result IS NOT NULL THEN PERFORM kerf_refuse('APPEND_ONLY', jsonb_build_object('table', TG_TABLE_NAME, 'op', TG_OP), 'KW002'); END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER client_key_keeps BEFORE UPDATE ON client_keys FOR EACH ROW EXECUTE FUNCTION kerf_client_key_keeps();

CREATE TRIGGER stamp BEFORE INSERT ON people FOR EACH ROW EXECUTE FUNCTION kerf_stamp('created_at');
CREATE TRIGGER stamp BEFORE INSERT ON grants FOR EACH ROW EXECUTE FUNCTION kerf_stamp('granted_at');
CREATE TRIGGER stamp BEFORE INSERT ON qualifications FOR EACH ROW EXECUTE FUNCTION kerf_stamp('recorded_at');
CREATE TRIGGER stamp BEFORE INSERT ON jobs FOR EACH ROW EXECUTE FUNCTION kerf_stamp('created_at');
CREATE TRIGGER stamp BEFORE INSERT ON estimates FOR EACH ROW EXECUTE FUNCTION kerf_stamp('kept_at');
CREATE TRIGGER stamp BEFORE INSERT ON deliveries FOR EACH ROW EXECUTE FUNCTION kerf_stamp('received_at');
CREATE TRIGGER stamp BEFORE INSERT ON notices FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');
CREATE TRIGGER stamp BEFORE INSERT ON site_rulesets FOR EACH ROW EXECUTE FUNCTION kerf_stamp('from_at');
CREATE TRIGGER stamp BEFORE INSERT ON company_layers FOR EACH ROW EXECUTE FUNCTION kerf_stamp('from_at');
CREATE TRIGGER stamp BEFORE INSERT ON client_keys FOR EACH ROW EXECUTE FUNCTION kerf_stamp('created_at');
CREATE TRIGGER stamp BEFORE INSERT ON chain_checks FOR EACH ROW EXECUTE FUNCTION kerf_stamp('checked_at');
CREATE TRIGGER stamp BEFORE INSERT ON refused_attempts FOR EACH ROW EXECUTE FUNCTION kerf_stamp('at');

-- ── The audit chains ──────────────────────────────────────────────────────────

-- The next entry of its chain, whatever was sent: under the chain's lock, after the last entry.
CREATE FUNCTION kerf_audit_entry() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp SET timezone = 'UTC' AS $$
BEGIN
  PERFORM pg_advisory_xact_lock(hashtextextended('kerf chain ' || NEW.chain, 0));
  NEW.seq := NULL; NEW.prev_hash := NULL;
  SELECT e.seq, e.hash INTO NEW.seq, NEW.prev_hash FROM audit_entries e WHERE e.chain = NEW.chain ORDER BY e.seq DESC LIMIT 1;
  NEW.seq := coalesce(NEW.seq, 0) + 1;
  NEW.prev_hash := coalesce(NEW.prev_hash, repeat('0', 64));
  NEW.at := kerf_now();
  NEW.payload := (NEW.payload::jsonb || jsonb_build_object(
    'chain', NEW.chain, 'seq', NEW.seq, 'at', NEW.at, 'actor', NEW.actor_id, 'role', NEW.actor_role,
    'act', NEW.act, 'table', NEW.table_name, 'subject', NEW.subject_id))::text;
  NEW.hash := encode(sha256(convert_to(NEW.prev_hash || NEW.payload, 'UTF8')), 'hex');
  RETURN NEW;
END $$;
CREATE TRIGGER audit_entry BEFORE INSERT ON audit_entries FOR EACH ROW EXECUTE FUNCTION kerf_audit_entry();

-- At commit, after all row locks: one entry in each chain the row belongs to. Arguments: the columns
-- that name its sites, or "company"; the column that names its subject. No fact without its entry.
CREATE FUNCTION kerf_audit() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp SET timezone = 'UTC' AS $$
DECLARE
  hidden constant text[] := ARRAY['password_hash', 'pin_hash'];
  actor text := nullif(current_setting('kerf.actor_id', true), '');
  role text := nullif(current_setting('kerf.actor_role', true), '');
  row_after jsonb := CASE WHEN TG_OP = 'DELETE' THEN NULL ELSE to_jsonb(NEW) END;
  row_before jsonb := CASE WHEN TG_OP = 'INSERT' THEN NULL ELSE to_jsonb(OLD) END;
  subject jsonb := coalesce(row_after, row_before);
  body jsonb;
BEGIN
  IF actor IS NULL AND role IS DISTINCT FROM 'system' THEN
    -- Only the owner, at the console or seeding, acts without a name.
    IF session_user <> current_user THEN PERFORM kerf_refuse('ACTOR_UNSET', jsonb_build_object('table', TG_TABLE_NAME), 'KW003'); END IF;
    role := 'owner';
  END IF;
  body := jsonb_build_object('op', TG_OP, 'row', row_after - hidden, 'request', nullif(current_setting('kerf.request_id', true), ''));
  IF TG_OP = 'UPDATE' THEN
    IF row_after = row_before THEN RETURN NULL; END IF;
    body := body || jsonb_build_object('before', row_before - hidden,
      'changed', (SELECT jsonb_agg(key ORDER BY key) FROM jsonb_each(row_after) AS after WHERE after.value IS DISTINCT FROM row_before -> after.key));
  ELSIF TG_OP = 'DELETE' THEN
    body := body || jsonb_build_object('before', row_before - hidden);
  END IF;
  INSERT INTO audit_entries (chain, seq, at, actor_id, actor_role, act, table_name, subject_id, payload, prev_hash, hash)
  SELECT chain, 0, kerf_now(), actor::uuid, coalesce(role, ''), coalesce(nullif(current_setting('kerf.act', true), ''), 'direct'),
         TG_TABLE_NAME, subject ->> TG_ARGV[1], body::text, '', ''
  FROM (SELECT DISTINCT coalesce(subject ->> name, CASE WHEN name = 'company' THEN 'company' END) AS chain
        FROM unnest(string_to_array(TG_ARGV[0], ',')) AS name) AS chains
  WHERE chain IS NOT NULL ORDER BY chain;
  RETURN NULL;
END $$;

-- Wakes whoever listens: the site, the table, what it is about. Never the content.
CREATE FUNCTION kerf_notify() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  fact jsonb := to_jsonb(NEW);
BEGIN
  PERFORM pg_notify('kerfwatch', jsonb_build_object('siteId', fact -> 'site_id', 'table', TG_TABLE_NAME, 'subjectId', fact -> TG_ARGV[0])::text);
  RETURN NULL;
END $$;

-- ── Who may write what ────────────────────────────────────────────────────────

DO $$
DECLARE
  entry record;
  has_runtime boolean := EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime');
BEGIN
  EXECUTE format('REVOKE TEMPORARY, CREATE ON DATABASE %I FROM PUBLIC', current_database());
  REVOKE CREATE ON SCHEMA public FROM PUBLIC;
  REVOKE ALL ON ALL TABLES IN SCHEMA public FROM PUBLIC;
  IF has_runtime THEN
    REVOKE ALL ON ALL TABLES IN SCHEMA public FROM kerfwatch_runtime;
    GRANT USAGE ON SCHEMA public TO kerfwatch_runtime;
    GRANT SELECT ON ALL TABLES IN SCHEMA public TO kerfwatch_runtime;
  END IF;

  FOR entry IN
    -- table, columns that name its chains (null: not audited), subject, columns the app may change ('' for a fact), inserts, wakes listeners
    SELECT * FROM (VALUES
      ('company', 'company', 'id', 'name, zone, currency', false, false),
      ('people', 'company', 'id', 'name, email, password_hash, pin_hash, disabled_at, units, clock, theme, phone, version', true, false),
      ('grants', 'site_id', 'person_id', 'revoked_at', true, false),
      ('qualifications', 'company', 'person_id', 'valid_until', true, false),
      ('sites', 'company', 'id', 'name, short_name, kind, zone, address, emergency_words, shift_ends, delivery_days, version', true, false),
      ('areas', 'site_id', 'id', 'name, area_class, view_id, facts, posts, designated_looked_at, version', true, false),
      ('crews', 'site_id', 'id', 'site_id, name', true, false),
      ('crew_members', 'company', 'crew_id', 'to_date', true, false),
      ('jobs', 'site_id', 'id', 'crew_id, title, planned_start, planned_end, chance_to_run, state, done_at, version', true, true),
      ('cut_lists', 'site_id', 'job_id', 'title, fuel, process, version', true, false),
      ('cuts', 'site_id', 'cut_list_id', 'ordinal, title, material, coating, shape, dims, position, count, piece_kg, note, version', true, false),
      ('estimates', 'site_id', 'job_id', '', true, false),
      ('gases', 'company', 'id', 'name', true, false),
      ('cylinder_sizes', 'company', 'id', 'name, tare_kg, heel_kg, change_at_gauge_kpa', true, false),
      ('cylinders', 'company', 'id', 'spec, tare_kg, ownership, supplier_id', true, false),
      ('cylinder_events', 'site_id,to_site_id', 'cylinder_id', '', true, true),
      ('swaps', 'site_id', 'outfit_id', '', true, false),
      ('outfits', 'site_id', 'id', 'site_id, crew_id, number, oxygen_places, fuel_places', true, false),
      ('outfit_parts', 'company', 'outfit_id', 'name, serial, orifice_m, shop_tip, hose_grade, length_m, bore_m, checked_on', true, false),
      ('outfit_events', 'site_id', 'outfit_id', '', true, true),
      ('suppliers', 'company', 'id', 'name, lead_days, order_email, delivery_fee_minor', true, false),
      ('prices', 'company', 'supplier_id', 'valid_until', true, false),
      ('orders', 'site_id', 'id', 'state, due_on, version', true, true),
      ('order_lines', 'site_id', 'order_id', '', true, false),
      ('deliveries', 'site_id', 'id', '', true, true),
      ('permits', 'site_id', 'id', '', true, true),
      ('clearance_answers', 'site_id', 'permit_id', '', true, true),
      ('gas_tests', 'site_id', 'permit_id', '', true, true),
      ('signatures', 'site_id', 'permit_id', '', true, true),
      ('stints', NULL, 'permit_id', '', false, false),
      ('permit_open_spans', NULL, 'permit_id', '', false, false),
      ('rounds', 'site_id', 'permit_id', '', true, true),
      ('permit_events', 'site_id', 'permit_id', '', true, true),
      ('hot_work_logs', 'site_id', 'job_id', '', true, true),
      ('work_outside_permit', 'site_id', 'id', '', true, true),
      ('notices', NULL, 'person_id', 'seen_at', true, true),
      ('site_rulesets', 'site_id', 'id', 'to_at', true, false),
      ('company_layers', 'company', 'id', '', true, false),
      ('client_keys', NULL, 'key', 'result', true, false),
      ('audit_entries', NULL, 'subject_id', '', false, false),
      ('chain_checks', NULL, 'id', '', true, false),
      ('rate_limits', NULL, 'key', 'count', true, false),
      ('refused_attempts', NULL, 'id', '', true, false)
    ) AS t (name, chains, subject, columns, inserts, wakes)
  LOOP
    IF has_runtime AND entry.inserts THEN EXECUTE format('GRANT INSERT ON %I TO kerfwatch_runtime', entry.name); END IF;
    IF entry.columns <> '' THEN
      IF has_runtime THEN EXECUTE format('GRANT UPDATE (%s) ON %I TO kerfwatch_runtime', entry.columns, entry.name); END IF;
    ELSIF entry.name NOT IN ('permits', 'stints', 'permit_open_spans') THEN -- those are moved by triggers
      EXECUTE format('CREATE TRIGGER append_only BEFORE UPDATE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', entry.name);
    END IF;
    IF entry.name NOT IN ('cuts', 'rate_limits') THEN
      EXECUTE format('CREATE TRIGGER never_deleted BEFORE DELETE ON %I FOR EACH ROW EXECUTE FUNCTION kerf_append_only()', entry.name);
      EXECUTE format('CREATE TRIGGER never_emptied BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION kerf_append_only()', entry.name);
    ELSIF has_runtime THEN
      EXECUTE format('GRANT DELETE ON %I TO kerfwatch_runtime', entry.name);
    END IF;
    IF entry.chains IS NOT NULL THEN
      EXECUTE format('CREATE CONSTRAINT TRIGGER audit AFTER INSERT ON %I DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit(%L, %L)', entry.name, entry.chains, entry.subject);
      IF entry.columns <> '' THEN
        EXECUTE format('CREATE CONSTRAINT TRIGGER audit_change AFTER UPDATE OF %s ON %I DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit(%L, %L)', entry.columns, entry.name, entry.chains, entry.subject);
      END IF;
    END IF;
    IF entry.wakes THEN
      EXECUTE format('CREATE TRIGGER wake AFTER INSERT ON %I FOR EACH ROW EXECUTE FUNCTION kerf_notify(%L)', entry.name, entry.subject);
    END IF;
  END LOOP;
END $$;
-- Locking a permit's row (FOR UPDATE) asks for the right to change one column. This one counts the
-- changes by trigger, whatever is written to it.
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN GRANT UPDATE (version) ON permits TO kerfwatch_runtime; END IF;
END $$;
CREATE CONSTRAINT TRIGGER audit_removal AFTER DELETE ON cuts DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION kerf_audit('site_id', 'cut_list_id');

-- Functions that read are the app's to call; those that write are for triggers alone.
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA public FROM PUBLIC;
ALTER DEFAULT PRIVILEGES IN SCHEMA public REVOKE EXECUTE ON FUNCTIONS FROM PUBLIC;
DO $$
DECLARE
  entry record;
BEGIN
  FOR entry IN
    SELECT p.oid::regprocedure AS signature, EXISTS (SELECT 1 FROM pg_depend d WHERE d.objid = p.oid AND d.deptype = 'e') AS of_extension, p.proname AS name
    FROM pg_proc p WHERE p.pronamespace = 'public'::regnamespace
  LOOP
    IF entry.of_extension THEN
      EXECUTE format('GRANT EXECUTE ON FUNCTION %s TO PUBLIC', entry.signature);
    ELSIF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') AND entry.name IN (
      'kerf_now', 'kerf_stop_code', 'kerf_ms', 'kerf_minutes', 'kerf_reason', 'kerf_refuse', 'kerf_refuse_all', 'kerf_site_day', 'kerf_person_reasons',
      'kerf_elsewhere_reasons', 'kerf_watch_slot', 'kerf_watch_progress_of', 'kerf_watch_reached', 'kerf_watch_progress', 'kerf_signed_at',
      'kerf_gas_test_reasons', 'kerf_duties_reasons', 'kerf_issue_reasons', 'kerf_relight_reasons', 'kerf_close_reasons',
      'kerf_fill_status', 'kerf_past_due', 'kerf_event_states') THEN
      EXECUTE format('GRANT EXECUTE ON FUNCTION %s TO kerfwatch_runtime', entry.signature);
    END IF;
  END LOOP;
  IF to_regclass('public._prisma_migrations') IS NOT NULL AND EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT SELECT ON _prisma_migrations TO kerfwatch_runtime;
  END IF;
END $$;
