-- Where a subject stands, by id; how many entries of a log are about it so far.
SELECT place, order_ms, (SELECT n FROM about WHERE subject = entry.place AND log = ?2 ORDER BY seq DESC LIMIT 1)
FROM entry WHERE id = ?1
