-- 250 permits a site, five a job: 241 closed over the year, one closed today, and eight that live:
-- three open, one held, one in its watch, one whose watch is done, one in preparation, one cleared.
CREATE TEMP TABLE permit_days AS
SELECT *, (s - 1) * 250 + p AS pn, pg_temp.at(day, '11:00'::interval) AS issued_at,
       CASE state WHEN 'held' THEN pg_temp.at(0, '17:45'::interval) WHEN 'watch' THEN pg_temp.at(0, CASE WHEN p = 247 THEN interval '17:20' ELSE interval '16:00' END)
         WHEN 'closed' THEN pg_temp.at(day, CASE WHEN p = 242 THEN interval '15:00' ELSE interval '18:30' END) END AS torch_out_at
FROM (
  SELECT s, p, (p - 1) / 5 + 1 AS k, (s - 1) * 60 + (p - 1) / 5 + 1 AS job,
         CASE WHEN p >= 242 THEN 0 ELSE ((p - 1) / 5 - 49) * 7 - 4 + (p - 1) % 5 END AS day,
         CASE WHEN p <= 242 THEN 'closed' ELSE (ARRAY['open', 'open', 'open', 'held', 'watch', 'watch', 'preparing', 'cleared'])[p - 242] END AS state,
         s * 10 + 1 + p % 6 AS area, s * 10 + 1 + p % 6 AS outfit, s * 100 + 3 + p % 8 AS operator, s * 100 + 11 + p % 8 AS watcher
  FROM generate_series(1, 40) s, generate_series(1, 250) p) d;
CREATE TEMP TABLE issued AS SELECT * FROM permit_days WHERE state NOT IN ('preparing', 'cleared');
ANALYZE permit_days, issued;

INSERT INTO permits (id, site_id, area_id, job_id, cut_list_id, outfit_id, number, what, where_words, cold_answer, isolation, planned_from, planned_until,
  operator_id, fire_watch_id, prepared_by, created_at, stop_code, state, state_at, cleared_at, issued_at, issued_by, valid_until, last_cut_by,
  torch_out_at, held_at, hold_reason, watch_at, closed_at, watch_required, watch_minutes, round_interval_min, monitoring_minutes, final_look_minutes,
  statement_required, gas_test_required, frozen, last_event_seq)
SELECT pg_temp.bid(12, pn), pg_temp.bid(1, s), pg_temp.bid(3, area), pg_temp.bid(8, job), pg_temp.bid(9, job), pg_temp.bid(5, outfit), (p - 1) % 5 + 1,
  'Cut the girders of the span', 'North end', '{"why": "Too thick to saw in place", "answer": "neither"}', '{"steps": [], "behind": "Bare steel", "inside": "Open section", "provenBy": null}',
  issued_at, pg_temp.at(day, '21:00'::interval), pg_temp.bid(2, operator), pg_temp.bid(2, watcher), pg_temp.bid(2, s * 100 + 1), issued_at - interval '2 hours', lpad(pn::text, 12, '0'),
  state, coalesce(torch_out_at, issued_at), CASE WHEN state <> 'preparing' THEN issued_at - interval '10 minutes' END,
  CASE WHEN is_issued THEN issued_at END, CASE WHEN is_issued THEN pg_temp.bid(2, s * 100 + 2) END, CASE WHEN is_issued THEN pg_temp.at(day, '21:00'::interval) END,
  CASE WHEN is_issued THEN pg_temp.at(day, '20:00'::interval) END, torch_out_at, CASE WHEN state = 'held' THEN torch_out_at END, CASE WHEN state = 'held' THEN 'break' END,
  CASE WHEN state IN ('watch', 'closed') THEN torch_out_at END, CASE WHEN state = 'closed' THEN torch_out_at + interval '75 minutes' END,
  is_issued, CASE WHEN is_issued THEN 60 END, CASE WHEN is_issued THEN 10 END, CASE WHEN is_issued THEN 0 END, CASE WHEN is_issued THEN 60 END,
  CASE WHEN is_issued THEN false END, CASE WHEN is_issued THEN false END, CASE WHEN is_issued THEN current_setting('bench.frozen')::jsonb END, 12
FROM (SELECT *, state NOT IN ('preparing', 'cleared') AS is_issued FROM permit_days) d;

INSERT INTO clearance_answers (id, site_id, permit_id, survey_no, item, answer, person_id, role_then, at)
SELECT pg_temp.bid(31, pn * 20 + i.n), pg_temp.bid(1, s), pg_temp.bid(12, pn), 1, i.item, '{"choice": "solid"}', pg_temp.bid(2, s * 100 + 1), 'foreman', issued_at - interval '20 minutes'
FROM permit_days, unnest(ARRAY['inside_piece', 'coating', 'far_side', 'openings', 'floor', 'walls', 'burnables', 'ducts', 'stores', 'air', 'cylinders', 'extinguisher', 'bystanders', 'view']) WITH ORDINALITY AS i(item, n)
WHERE state <> 'preparing';
INSERT INTO gas_tests (id, site_id, permit_id, oxygen_pct, lel_pct, instrument, bump_tested_on, calibrated_until, person_id, role_then, at)
SELECT pg_temp.bid(32, pn), pg_temp.bid(1, s), pg_temp.bid(12, pn), 20.8, 0, 'Four-gas meter', (issued_at)::date, pg_temp.today() + 30, pg_temp.bid(2, watcher), 'fire_watch', issued_at - interval '15 minutes'
FROM issued;
INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no, at)
SELECT pg_temp.bid(33, pn * 10 + a.n), pg_temp.bid(1, s), pg_temp.bid(12, pn), pg_temp.bid(2, a.person), a.act, a.role, 1,
       CASE WHEN a.n <= 3 THEN issued_at - make_interval(mins => 4 - a.n) ELSE torch_out_at + interval '74 minutes' END
FROM issued, LATERAL (VALUES (1, 'agree', 'operator', operator), (2, 'acknowledge', 'fire_watch', watcher), (3, 'issue', 'pai', s * 100 + 2),
  (4, 'final_watch', 'fire_watch', watcher), (5, 'final_pai', 'pai', s * 100 + 2)) AS a(n, act, role, person)
WHERE a.n <= 3 OR state = 'closed';
INSERT INTO stints (id, site_id, permit_id, person_id, role, slot, from_at, to_at)
SELECT pg_temp.bid(34, pn * 10 + a.n), pg_temp.bid(1, s), pg_temp.bid(12, pn), pg_temp.bid(2, a.person), a.role, a.slot || pg_temp.bid(3, area), issued_at, a.to_at
FROM issued, LATERAL (VALUES (1, 'operator', 'cut:', operator, torch_out_at),
  (2, 'fire_watch', 'watch:', watcher, CASE WHEN state = 'closed' THEN torch_out_at + interval '75 minutes' END)) AS a(n, role, slot, person, to_at);
INSERT INTO permit_open_spans (id, permit_id, from_at, to_at) SELECT pg_temp.bid(35, pn), pg_temp.bid(12, pn), issued_at, torch_out_at FROM issued;
INSERT INTO rounds (id, site_id, permit_id, person_id, role_then, posts, worst, due_at, at)
SELECT pg_temp.bid(36, pn * 10 + r), pg_temp.bid(1, s), pg_temp.bid(12, pn), pg_temp.bid(2, watcher), 'fire_watch',
       '[{"name": "At the work", "answer": "clear", "postId": "At the work"}, {"name": "Below", "answer": "clear", "postId": "Below"}]', 'clear',
       torch_out_at + make_interval(mins => r * 10), torch_out_at + make_interval(mins => r * 10)
FROM issued, generate_series(1, 6) r WHERE torch_out_at + make_interval(mins => r * 10) < pg_temp.now();
INSERT INTO permit_events (id, site_id, permit_id, seq, kind, at, person_id, role_then)
SELECT pg_temp.bid(37, pn * 20 + e.n), pg_temp.bid(1, s), pg_temp.bid(12, pn), e.n, e.kind, e.at, pg_temp.bid(2, s * 100 + 1), 'foreman'
FROM permit_days, LATERAL (VALUES (1, 'prepared', issued_at - interval '2 hours'), (2, 'cleared', issued_at - interval '10 minutes'), (3, 'issued', issued_at),
  (4, CASE WHEN state = 'held' THEN 'held' ELSE 'work_ended' END, torch_out_at), (5, 'final_look', torch_out_at + interval '60 minutes'), (6, 'closed', torch_out_at + interval '75 minutes')) AS e(n, kind, at)
WHERE e.n = 1 OR (e.n = 2 AND state <> 'preparing') OR (e.n = 3 AND state NOT IN ('preparing', 'cleared')) OR (e.n = 4 AND torch_out_at IS NOT NULL) OR (e.n >= 5 AND state = 'closed');

INSERT INTO hot_work_logs (id, site_id, job_id, area_id, permit_id, operator_id, outfit_id, cut_id, pieces, from_at, to_at, recorded_at, person_id, role_then)
SELECT pg_temp.bid(38, pn * 10 + l.n), pg_temp.bid(1, s), pg_temp.bid(8, job), pg_temp.bid(3, area), pg_temp.bid(12, pn), pg_temp.bid(2, operator), pg_temp.bid(5, outfit),
       pg_temp.bid(10, job * 10 + 1 + (p * 3 + l.n) % 4), 3, l.from_at, l.from_at + interval '90 minutes', l.from_at + interval '92 minutes', pg_temp.bid(2, operator), 'operator'
FROM issued, LATERAL (SELECT i AS n, issued_at + interval '30 minutes' + i * interval '2 hours' AS from_at FROM generate_series(0, 2) i) l
WHERE l.from_at + interval '92 minutes' <= coalesce(torch_out_at, pg_temp.now());
UPDATE cuts SET done_count = l.pieces FROM (SELECT cut_id, sum(pieces) AS pieces FROM hot_work_logs GROUP BY 1) l WHERE l.cut_id = cuts.id;

-- What each foreman was told: fifty things long ago, six that wait.
INSERT INTO notices (id, site_id, person_id, kind, subject_id, at, seen_at, dedupe)
SELECT pg_temp.bid(39, s * 100 + i), pg_temp.bid(1, s), pg_temp.bid(2, s * 100 + 1), 'round_missed', pg_temp.bid(12, (s - 1) * 250 + 190 + i),
       CASE WHEN i <= 50 THEN pg_temp.now() - make_interval(days => 60 - i) ELSE pg_temp.now() - make_interval(hours => 60 - i) END,
       CASE WHEN i <= 50 THEN pg_temp.now() - make_interval(days => 60 - i) END, 'bench:' || s || ':' || i
FROM generate_series(1, 40) s, generate_series(1, 56) i;
