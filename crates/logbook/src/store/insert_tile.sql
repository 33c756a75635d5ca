-- The hash of a complete subtree.
INSERT INTO tile (log, level, at, hash) VALUES (:log, :level, :at, :hash)
