-- A new bond or batch is awake.
INSERT INTO rest (place) VALUES (:place) ON CONFLICT (place) DO NOTHING
