-- The same among the entries that name a thing without being about it.
SELECT entry.place FROM refer CROSS JOIN entry ON entry.place = refer.place
WHERE refer.target = :thing AND refer.place < :before AND refer.place >= :from
  AND (:kind IS NULL OR entry.kind = :kind) AND entry.entered_ms <= :known_ms AND entry.happened_ms <= :at_ms
ORDER BY refer.place DESC LIMIT :most
