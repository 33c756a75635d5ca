INSERT INTO hour (spot, hour_ms, place) VALUES (:spot, :hour, :place) ON CONFLICT DO NOTHING
