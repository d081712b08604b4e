-- "Stop work" in one way to the database and back: whoever presses waits, and two hundred may press at once. The functions
-- run as the app's own role, so that every table's rights, triggers and refusals hold for them as for anybody.

-- Tells the people on this very permit beside the PAIs and foremen whom an event's trigger tells, under the same once-only
-- key, so that nobody is told twice of one event.
CREATE FUNCTION kerf_tell_those_on(permit uuid, site uuid, what text, once text) RETURNS void LANGUAGE sql SET search_path = pg_catalog, public, pg_temp AS $$
  INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
  SELECT gen_random_uuid(), site, who.person_id, what, permit, '{}', once || ':' || who.person_id
  FROM (SELECT operator_id AS person_id FROM permits WHERE id = permit
        UNION SELECT s.person_id FROM stints s WHERE s.permit_id = permit AND s.to_at IS NULL
        UNION SELECT g.person_id FROM grants g JOIN people q ON q.id = g.person_id AND q.disabled_at IS NULL
              WHERE g.site_id = site AND g.role IN ('pai', 'foreman') AND g.revoked_at IS NULL) AS who
  ON CONFLICT (dedupe) DO NOTHING
$$;

-- The press itself, under the permit's lock. What is stopped already stays so. Without a person nothing tells two presses
-- apart, so one that is pressed already is not pressed again.
CREATE FUNCTION kerf_press_stop(permit uuid, person uuid, then_role text, device timestamptz, step text, ids uuid[]) RETURNS void LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p record;
BEGIN
  SELECT id, site_id, stopped_at, stop_pressed_at INTO p FROM permits WHERE id = permit FOR NO KEY UPDATE;
  IF p.stopped_at IS NOT NULL THEN RETURN; END IF;
  IF p.stop_pressed_at IS NULL OR (step = 'hold' AND person IS NOT NULL) THEN
    INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, device_at, data)
    VALUES (ids[1], p.site_id, permit, 'held', person, then_role, device, '{"stop": true}');
    PERFORM kerf_tell_those_on(permit, p.site_id, 'stop_pressed', 'stop:' || ids[1]);
  END IF;
  IF step = 'stop' THEN
    INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, device_at, data)
    VALUES (ids[2], p.site_id, permit, 'stopped', person, then_role, device, '{}');
  END IF;
END $$;

-- What the permit is after a press; `but_not` was not rung, and NULL where the answer names nobody. Whoever was rung in the
-- last ten minutes has to do with this press.
CREATE FUNCTION kerf_stop_answer(permit uuid, but_not uuid) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT jsonb_build_object(
    'state', p.state,
    'atMs', kerf_ms(coalesce(p.stopped_at, p.stop_pressed_at, kerf_now())),
    'watchMinutes', CASE WHEN p.torch_out_at IS NOT NULL THEN kerf_watch_owed(p)::float END,
    'watchUntilMs', CASE WHEN p.torch_out_at IS NOT NULL AND p.watch_minutes IS NOT NULL THEN kerf_ms(coalesce(w.done_at,
      kerf_now() + make_interval(secs => greatest(0, kerf_watch_owed(p) * 60 - w.credit_ms / 1000.0)::float))) END,
    'rang', CASE WHEN but_not IS NULL THEN '[]' ELSE coalesce((
      SELECT jsonb_agg(jsonb_build_object('name', r.name, 'seenAtMs', kerf_ms(r.seen_at)) ORDER BY r.name) FROM (
        SELECT q.name, max(n.seen_at) AS seen_at FROM notices n JOIN people q ON q.id = n.person_id
        WHERE n.subject_id = p.id AND n.kind IN ('stop_pressed', 'smoke') AND n.person_id <> but_not
          AND n.at > kerf_now() - interval '10 minutes'
        GROUP BY q.id, q.name ORDER BY q.name LIMIT 20) AS r), '[]') END)
  FROM permits p, LATERAL kerf_watch_progress(p.id) AS w WHERE p.id = permit
$$;

-- Names the actor, claims the submission's key (none for the posted code), presses, and keeps the answer under the key: one
-- statement, so one transaction. A key that was claimed before answers what was kept under it.
CREATE FUNCTION kerf_stop_work(permit uuid, person uuid, roles text, request text, then_role text, device timestamptz, step text, ids uuid[], claim_key text, claim_hash text) RETURNS jsonb LANGUAGE plpgsql SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  kept client_keys%ROWTYPE;
  answer jsonb;
BEGIN
  PERFORM set_config('kerf.actor_id', coalesce(person::text, ''), true), set_config('kerf.actor_role', roles, true),
          set_config('kerf.act', 'work:stop', true), set_config('kerf.request_id', request, true);
  IF claim_key IS NOT NULL THEN
    INSERT INTO client_keys (person_id, key, action, input_hash) VALUES (person, claim_key, 'work:stop', claim_hash) ON CONFLICT DO NOTHING;
    IF NOT FOUND THEN
      SELECT * INTO kept FROM client_keys c WHERE c.person_id = person AND c.key = claim_key;
      RETURN jsonb_build_object('kept', jsonb_build_object('action', kept.action, 'inputHash', kept.input_hash, 'result', kept.result));
    END IF;
  END IF;
  PERFORM kerf_press_stop(permit, person, then_role, device, step, ids);
  answer := kerf_stop_answer(permit, person);
  IF claim_key IS NOT NULL THEN UPDATE client_keys c SET result = answer WHERE c.person_id = person AND c.key = claim_key; END IF;
  RETURN jsonb_build_object('answer', answer);
END $$;

REVOKE ALL ON FUNCTION kerf_tell_those_on(uuid, uuid, text, text), kerf_press_stop(uuid, uuid, text, timestamptz, text, uuid[]), kerf_stop_answer(uuid, uuid), kerf_stop_work(uuid, uuid, text, text, text, timestamptz, text, uuid[], text, text) FROM PUBLIC;
DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'kerfwatch_runtime') THEN
    GRANT EXECUTE ON FUNCTION kerf_tell_those_on(uuid, uuid, text, text), kerf_press_stop(uuid, uuid, text, timestamptz, text, uuid[]), kerf_stop_answer(uuid, uuid), kerf_stop_work(uuid, uuid, text, text, text, timestamptz, text, uuid[], text, text) TO kerfwatch_runtime;
  END IF;
END $$;
