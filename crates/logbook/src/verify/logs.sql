SELECT num, id, standing, size, edge FROM log ORDER BY num
