-- What came with a delivery: without this, its page reads every event there ever was.
CREATE INDEX cylinder_events_delivery ON cylinder_events (delivery_id) WHERE delivery_id IS NOT NULL;
