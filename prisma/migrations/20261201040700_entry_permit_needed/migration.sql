-- No hot work is opened in a confined space without a linked entry permit, nor where a ruleset asks for one. As before in all
-- else: the host's own permit and the entry permit end when they end, and ours with them at the latest.
CREATE OR REPLACE FUNCTION kerf_linked_caps() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb := '[]';
  until timestamptz := (NEW.data ->> 'validUntil')::timestamptz;
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF (p.entry_permit IS NULL OR p.entry_permit_until IS NULL) AND (
       NEW.data @> '{"evaluation": {"precautions": [{"id": "entry-permit"}]}}'
       OR EXISTS (SELECT 1 FROM areas a WHERE a.id = p.area_id AND a.facts @> '{"confinedSpace": true}')) THEN
    reasons := kerf_reason('ENTRY_PERMIT_MISSING');
  END IF;
  IF until > p.host_permit_until THEN reasons := reasons || kerf_reason('VALID_OVER_HOST', jsonb_build_object('number', p.host_permit, 'untilAt', kerf_ms(p.host_permit_until))); END IF;
  IF until > p.entry_permit_until THEN reasons := reasons || kerf_reason('VALID_OVER_ENTRY', jsonb_build_object('number', p.entry_permit, 'untilAt', kerf_ms(p.entry_permit_until))); END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
