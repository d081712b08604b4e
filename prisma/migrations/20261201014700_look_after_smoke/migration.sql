-- Smoke, or a torch that burned outside the permit, starts the watch over from its minute. A look made before it says nothing
-- about the area after it: work goes on only by a new one, from a hold as from the watch.
DO $$
DECLARE
  before text := pg_get_functiondef('kerf_relight_reasons(permits, text, timestamptz, timestamptz)'::regprocedure);
  after text := replace(before, 'a.at >= since;', 'a.at >= greatest(since, p.torch_out_at);');
BEGIN
  IF after = before THEN RAISE EXCEPTION 'kerf_relight_reasons does not look since'; END IF;
  EXECUTE after;
END $$;
