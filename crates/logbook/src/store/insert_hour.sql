-- An entry that names blocks of a spot and hour.
INSERT INTO hour (spot, hour_ms, place) VALUES (:spot, :hour, :place) ON CONFLICT DO NOTHING
