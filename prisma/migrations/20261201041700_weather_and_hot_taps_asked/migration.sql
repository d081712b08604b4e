-- The walk asks about burn bans and wind in the open, and of a hot tap about crew, plan and line. As before in all else: the
-- twin of the choices that lib/permit's survey marks as blocked; a test compares the two.
CREATE OR REPLACE FUNCTION kerf_answer_forbids(item text, choice text) RETURNS boolean LANGUAGE sql IMMUTABLE SET search_path = pg_catalog, pg_temp AS $$
  SELECT (item, choice) IN (
    ('inside_piece', 'hollow_sealed'), ('inside_piece', 'not_cleaned'), ('inside_piece', 'tank_in_service'),
    ('coating', 'not_tested'), ('coating', 'burns'), ('far_side', 'metal_touches'),
    ('walls', 'burnable_cover'), ('walls', 'sandwich_panel'), ('burnables', 'neither'), ('ducts', 'running'),
    ('stores', 'bulk'), ('stores', 'dust'), ('stores', 'painting'), ('sprinklers', 'valve_shut'),
    ('air', 'vapour'), ('air', 'solvent'), ('ship_space', 'not_tested'), ('cylinders', 'inside'), ('extinguisher', 'short'),
    ('burn_ban', 'in_force'), ('burn_ban', 'not_asked'), ('wind', 'not_measured'),
    ('tap_crew', 'not_approved'), ('tap_plan', 'none'), ('tap_line', 'not_as_planned'))
$$;
