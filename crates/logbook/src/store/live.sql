-- What may still have a clock that runs, or an alarm that nobody answered.
SELECT live.what, entry.id FROM live JOIN entry ON entry.place = live.place WHERE live.rest = 0 ORDER BY live.place
