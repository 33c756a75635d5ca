-- A hand reading at its instant.
INSERT INTO hand (spot, source, at_ms, place) VALUES (:spot, :source, :at, :place) ON CONFLICT DO NOTHING
