-- A thing takes a name, or a corrected one.
INSERT INTO name (noun, place, name) VALUES (:noun, :place, :name)
ON CONFLICT (noun, place) DO UPDATE SET name = excluded.name
