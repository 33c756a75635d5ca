-- Where a subject stands, by id; how many entries of a log are about it so far; whether it is at rest.
SELECT place, order_ms,
  (SELECT n FROM about WHERE subject = entry.place AND log = ?2 ORDER BY seq DESC LIMIT 1),
  EXISTS (SELECT 1 FROM live WHERE live.place = entry.place AND rest <> 0)
FROM entry WHERE id = ?1
