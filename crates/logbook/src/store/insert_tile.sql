INSERT INTO tile (log, level, at, hash) VALUES (:log, :level, :at, :hash)
