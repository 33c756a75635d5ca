-- One stored hash: of a leaf at level 0, of a subtree above.
SELECT leaf FROM entry WHERE ?2 = 0 AND place = (?1 << 40) | ?3
UNION ALL
SELECT hash FROM tile WHERE ?2 > 0 AND log = ?1 AND level = ?2 AND at = ?3
