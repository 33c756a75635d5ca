-- Every log held.
SELECT num, id, standing, size, order_ms, edge FROM log ORDER BY num
