-- A bond or batch comes to rest.
INSERT OR REPLACE INTO rest (place, first_ms, last_ms, zone_min, model, kept)
VALUES (:place, :first, :last, :zone, :model, :kept)
