-- A stretch of a log, newest first: entries of a kind, or of any, as entered and happened until two instants.
SELECT place FROM entry
WHERE place < :before AND place >= :from AND (:kind IS NULL OR kind = :kind)
  AND entered_ms <= :known_ms AND happened_ms <= :at_ms
ORDER BY place DESC LIMIT :most
