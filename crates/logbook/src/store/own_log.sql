-- The log this book appends to.
SELECT num, id, standing, size, order_ms, edge FROM log WHERE standing = 'own' ORDER BY num DESC LIMIT 1
