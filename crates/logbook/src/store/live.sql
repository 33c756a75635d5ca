SELECT live.what, entry.id FROM live JOIN entry ON entry.place = live.place WHERE live.rest = 0 ORDER BY live.place
