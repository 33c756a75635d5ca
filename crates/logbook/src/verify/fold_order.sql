SELECT place, bytes FROM entry ORDER BY order_ms, log, seq
