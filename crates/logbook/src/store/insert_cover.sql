-- An entry that holds at a spot over a stretch.
INSERT INTO cover (spot, until_ms, from_ms, place) VALUES (:spot, :until, :from, :place) ON CONFLICT DO NOTHING
