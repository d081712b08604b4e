-- No permit is issued that forgets the codes of its area's posts, and no code changes while a permit goes by it: what hangs at
-- the post would be refused there, and the watch could not end.
CREATE FUNCTION kerf_codes_frozen() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb;
BEGIN
  SELECT coalesce(jsonb_agg(jsonb_build_object('code', 'POST_CODE_LEFT_OUT', 'params', jsonb_build_object('post', x ->> 'name'))), '[]') INTO reasons
  FROM permits p JOIN areas a ON a.id = p.area_id, jsonb_path_query(a.posts, '$[*]') AS x
  WHERE p.id = NEW.permit_id AND kerf_plain_post_code(x ->> 'code') <> '' AND (
    NOT coalesce(NEW.data #> '{duties,posts}' @> jsonb_build_array(x -> 'name'), false)
    OR NOT EXISTS (SELECT 1 FROM jsonb_path_query(NEW.data, '$.posts[*]') AS f
      WHERE f ->> 'name' = x ->> 'name' AND kerf_plain_post_code(f ->> 'code') = kerf_plain_post_code(x ->> 'code')));
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER codes_frozen BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind = 'issued') EXECUTE FUNCTION kerf_codes_frozen();

CREATE FUNCTION kerf_codes_in_use() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  reasons jsonb;
BEGIN
  SELECT coalesce(jsonb_agg(DISTINCT jsonb_build_object('code', 'POST_CODE_IN_USE', 'params', jsonb_build_object('post', c.post))), '[]') INTO reasons
  FROM permits p, kerf_coded_posts(p) AS c, jsonb_path_query(NEW.posts, '$[*]') AS x
  WHERE p.area_id = NEW.id AND p.state IN ('open', 'held', 'watch') AND x ->> 'name' = c.post AND kerf_plain_post_code(x ->> 'code') <> c.code;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER codes_in_use BEFORE UPDATE OF posts ON areas FOR EACH ROW WHEN (NEW.posts IS DISTINCT FROM OLD.posts) EXECUTE FUNCTION kerf_codes_in_use();
