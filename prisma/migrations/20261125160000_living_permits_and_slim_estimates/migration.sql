-- What all sites show reads only permits that live or have just ended, and of an estimate only what
-- each cut was to take: without these, every permit is looked at and every kept result is opened.
CREATE INDEX permits_living ON permits (site_id, created_at DESC, id DESC) WHERE state IN ('preparing', 'cleared', 'open', 'held', 'watch');
CREATE INDEX permits_closed ON permits (state_at DESC, id DESC) WHERE state = 'closed';

-- In the order of the result's cuts: id, pieces that were to do, kilograms of oxygen.
ALTER TABLE estimates
  ADD COLUMN cut_ids jsonb GENERATED ALWAYS AS (jsonb_path_query_array(result, '$.cuts[*].cutId')) STORED,
  ADD COLUMN cut_counts jsonb GENERATED ALWAYS AS (jsonb_path_query_array(result, '$.cuts[*].remainingCount')) STORED,
  ADD COLUMN cut_oxygen_kg jsonb GENERATED ALWAYS AS (jsonb_path_query_array(result, '$.cuts[*].oxygenKg.value')) STORED;
