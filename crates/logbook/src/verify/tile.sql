-- One stored subtree hash.
SELECT hash FROM tile WHERE log = ?1 AND level = ?2 AND at = ?3
