-- One log, by id.
SELECT num, id, standing, size, order_ms, edge FROM log WHERE id = :id
