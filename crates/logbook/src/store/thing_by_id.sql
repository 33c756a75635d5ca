SELECT place, order_ms FROM entry WHERE id = :id
