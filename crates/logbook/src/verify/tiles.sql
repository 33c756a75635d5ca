-- All subtrees a log stores.
SELECT level, at FROM tile WHERE log = ?1 ORDER BY level, at
