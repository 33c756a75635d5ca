-- The same among the entries about a thing.
SELECT entry.place FROM about CROSS JOIN entry ON entry.place = (about.log << 40) | about.seq
WHERE about.subject = :thing AND about.log = :log AND about.seq < :before AND (:kind IS NULL OR entry.kind = :kind)
  AND entry.entered_ms <= :known_ms AND entry.happened_ms <= :at_ms
ORDER BY about.seq DESC LIMIT :most
