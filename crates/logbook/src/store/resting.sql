-- What is at rest, with what was judged of it.
SELECT entry.id, first_ms, last_ms, zone_min, model, kept FROM rest JOIN entry ON entry.place = rest.place
WHERE kept IS NOT NULL ORDER BY rest.place
