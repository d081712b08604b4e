-- Nobody is twice in one crew at a time; what is typed of a site and an area has its shape.
CREATE UNIQUE INDEX crew_members_once ON crew_members (crew_id, person_id) WHERE to_date IS NULL;
ALTER TABLE sites
  ADD CONSTRAINT sites_shift_ends CHECK (shift_ends ~ '^([01][0-9]|2[0-3]):[0-5][0-9]$'),
  ADD CONSTRAINT sites_delivery_days CHECK (delivery_days <@ ARRAY[1, 2, 3, 4, 5, 6, 7]);
ALTER TABLE areas
  ADD CONSTRAINT areas_facts_shape CHECK (jsonb_typeof(facts) = 'object'),
  ADD CONSTRAINT areas_posts_shape CHECK (jsonb_typeof(posts) = 'array');
