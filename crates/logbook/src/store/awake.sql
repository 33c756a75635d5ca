-- Bonds and batches after a place that are awake, oldest first.
SELECT rest.place, entry.id, entry.kind FROM rest JOIN entry ON entry.place = rest.place
WHERE rest.kept IS NULL AND rest.place > :after ORDER BY rest.place LIMIT :most
