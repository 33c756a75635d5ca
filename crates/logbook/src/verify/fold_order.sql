-- All entries in the order in which state folds.
SELECT place, bytes FROM entry ORDER BY order_ms, log, seq
