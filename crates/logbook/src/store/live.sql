-- What may still have a clock that runs, or an alarm that nobody answered.
SELECT live.what, entry.id FROM live JOIN entry ON entry.place = live.place ORDER BY live.place
