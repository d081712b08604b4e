-- Posts may carry a code, frozen with the permit as {id, name, code}. A round scans it at the post, or says why it could not;
-- then it is kept, and is no presence. The twin of lib/permit/post-codes.ts.
CREATE FUNCTION kerf_plain_post_code(code text) RETURNS text LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT upper(regexp_replace(coalesce(code, ''), '[^0-9A-Za-z]', '', 'g'))
$$;

-- The posts of a permit that carry a code.
CREATE FUNCTION kerf_coded_posts(p permits) RETURNS TABLE (post text, code text) LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT x ->> 'name', kerf_plain_post_code(x ->> 'code') FROM jsonb_path_query(coalesce(p.frozen, '{}'), '$.posts[*]') AS x
  WHERE kerf_plain_post_code(x ->> 'code') <> ''
$$;

-- Why a round's codes do not do. Warm and smoke are never refused for a code.
CREATE FUNCTION kerf_scan_reasons(p permits, posts jsonb) RETURNS jsonb LANGUAGE plpgsql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  coded record;
  given text[];
  reasons jsonb := '[]';
BEGIN
  IF EXISTS (SELECT 1 FROM jsonb_array_elements(posts) AS a WHERE a ->> 'answer' IS DISTINCT FROM 'clear') THEN RETURN reasons; END IF;
  FOR coded IN SELECT * FROM kerf_coded_posts(p) LOOP
    CONTINUE WHEN NOT EXISTS (SELECT 1 FROM jsonb_array_elements(posts) AS a WHERE a ->> 'name' = coded.post);
    given := ARRAY(SELECT kerf_plain_post_code(a ->> 'code') FROM jsonb_array_elements(posts) AS a WHERE a ->> 'name' = coded.post AND kerf_plain_post_code(a ->> 'code') <> '');
    IF coded.code = ANY (given) THEN CONTINUE; END IF;
    IF cardinality(given) > 0 THEN
      reasons := reasons || kerf_reason('POST_CODE_WRONG', jsonb_build_object('post', coded.post));
    ELSIF NOT EXISTS (SELECT 1 FROM jsonb_array_elements(posts) AS a WHERE a ->> 'name' = coded.post AND btrim(coalesce(a ->> 'unscanned', '')) <> '') THEN
      reasons := reasons || kerf_reason('POST_NOT_SCANNED', jsonb_build_object('post', coded.post));
    END IF;
  END LOOP;
  RETURN reasons;
END $$;

-- What is kept of a round: whether each code was right and not the code, which whoever reads the record could use without going
-- there. What the caller says of it is never taken.
CREATE FUNCTION kerf_scanned_posts(p permits, posts jsonb) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(jsonb_agg(CASE
    WHEN c.post IS NULL THEN a - 'code' - 'scanned' - 'unscanned'
    WHEN c.is_scanned THEN (a - 'code' - 'unscanned') || '{"scanned": true}'
    ELSE (a - 'code') || '{"scanned": false}' END ORDER BY n), '[]')
  FROM jsonb_array_elements(posts) WITH ORDINALITY AS given(a, n)
  LEFT JOIN (SELECT DISTINCT ON (k.post) k.post,
      EXISTS (SELECT 1 FROM jsonb_array_elements(posts) AS b WHERE b ->> 'name' = k.post AND kerf_plain_post_code(b ->> 'code') = k.code) AS is_scanned
    FROM kerf_coded_posts(p) AS k ORDER BY k.post) AS c ON c.post = a ->> 'name'
$$;

-- Each function is taken as it stands, so that nothing else of it changes.
DO $$
DECLARE
  one record;
  before text;
  after text;
BEGIN
  FOR one IN SELECT * FROM (VALUES
    ('kerf_round()', E'  PERFORM kerf_refuse_all(reasons);\n', E'  IF jsonb_typeof(NEW.posts) = ''array'' THEN reasons := reasons || kerf_scan_reasons(p, NEW.posts); END IF;\n  PERFORM kerf_refuse_all(reasons);\n  NEW.posts := kerf_scanned_posts(p, NEW.posts);\n'),
    ('kerf_round()', 'IF p.torch_out_at IS NOT NULL AND p.round_interval_min > 0 THEN', 'IF p.torch_out_at IS NOT NULL AND p.round_interval_min > 0 AND NOT NEW.posts @> ''[{"scanned": false}]'' THEN'),
    ('kerf_watch_progress(uuid, timestamptz)', 'r.permit_id = p.id AND r.at >= p.torch_out_at', 'r.permit_id = p.id AND r.at >= p.torch_out_at AND NOT r.posts @> ''[{"scanned": false}]''')
  ) AS x(fn, old_words, new_words) LOOP
    before := pg_get_functiondef(one.fn::regprocedure);
    after := replace(before, one.old_words, one.new_words);
    IF after = before THEN RAISE EXCEPTION '% does not say %', one.fn, one.old_words; END IF;
    EXECUTE after;
  END LOOP;
END $$;
