-- What was found that forbids the work is held by the database too, at every step that lets the torch burn.

-- The twin of the choices that lib/permit's survey marks as blocked; a test compares the two.
CREATE FUNCTION kerf_answer_forbids(item text, choice text) RETURNS boolean LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT (item, choice) IN (
    ('inside_piece', 'hollow_sealed'), ('inside_piece', 'not_cleaned'), ('inside_piece', 'tank_in_service'),
    ('coating', 'not_tested'), ('coating', 'burns'), ('far_side', 'metal_touches'),
    ('walls', 'burnable_cover'), ('walls', 'sandwich_panel'), ('burnables', 'neither'), ('ducts', 'running'),
    ('stores', 'bulk'), ('stores', 'dust'), ('stores', 'painting'), ('sprinklers', 'valve_shut'),
    ('air', 'vapour'), ('air', 'solvent'), ('ship_space', 'not_tested'), ('cylinders', 'inside'), ('extinguisher', 'short'))
$$;

-- Each item whose last answer forbids the work, from the survey that the permit was issued on; from the present one before that.
CREATE FUNCTION kerf_survey_forbids(p permits) RETURNS jsonb LANGUAGE sql STABLE SET search_path = pg_catalog, public, pg_temp AS $$
  SELECT coalesce(jsonb_agg(jsonb_build_object('code', 'SURVEY_BLOCKED', 'params', jsonb_build_object('item', last.item, 'choice', last.choice)) ORDER BY last.item), '[]')
  FROM (SELECT DISTINCT ON (a.item) a.item, a.answer ->> 'choice' AS choice FROM clearance_answers a
        WHERE a.permit_id = p.id AND a.survey_no >= CASE WHEN p.issued_at IS NULL THEN p.survey_no ELSE coalesce(
          (SELECT s.survey_no FROM signatures s WHERE s.permit_id = p.id AND s.act = 'issue' ORDER BY s.at DESC, s.id DESC LIMIT 1), p.survey_no) END
        ORDER BY a.item, a.at DESC, a.id DESC) AS last
  WHERE kerf_answer_forbids(last.item, last.choice)
$$;

-- Clearing, issuing and going on say what the rules decided of what was found, and are refused when that is no. Fires before
-- the event's own check, by its name, and leaves a wrong state to that.
CREATE FUNCTION kerf_found_forbids() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public, pg_temp AS $$
DECLARE
  p permits%ROWTYPE;
  reasons jsonb;
  decision text := coalesce(NEW.data #>> '{evaluation,decision}', NEW.data ->> 'decision');
BEGIN
  p := kerf_lock_permit(NEW.permit_id);
  IF p.state <> ALL (kerf_event_states(NEW.kind)) THEN RETURN NEW; END IF;
  reasons := kerf_survey_forbids(p);
  IF decision IN ('forbidden', 'forbidden_without_authority_approval', 'forbidden_unless_impairment_program', 'forbidden_until_corrected') THEN
    reasons := reasons || kerf_reason('RULES_FORBID', jsonb_build_object('decision', decision));
  ELSIF decision IS NULL AND NEW.kind IN ('resumed', 'reopened') AND session_user <> current_user THEN -- the owner plays a past that had none
    reasons := reasons || kerf_reason('RULES_NOT_ASKED');
  END IF;
  PERFORM kerf_refuse_all(reasons);
  RETURN NEW;
END $$;
CREATE TRIGGER found_forbids BEFORE INSERT ON permit_events FOR EACH ROW WHEN (NEW.kind IN ('cleared', 'issued', 'resumed', 'reopened')) EXECUTE FUNCTION kerf_found_forbids();
REVOKE ALL ON FUNCTION kerf_survey_forbids(permits), kerf_found_forbids() FROM PUBLIC;
