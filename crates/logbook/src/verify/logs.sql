-- Every log, with the size and edge it claims.
SELECT num, id, standing, size, edge FROM log ORDER BY num
