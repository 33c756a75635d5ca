-- An entry that another names.
SELECT place, kind, order_ms FROM entry WHERE id = ?1
