-- Rows whose place lies in no log.
SELECT entry.place, entry.log, entry.seq FROM entry
WHERE NOT EXISTS (
  SELECT 1 FROM log WHERE log.num = entry.place >> 40 AND (entry.place & 1099511627775) < log.size
)
ORDER BY entry.place
