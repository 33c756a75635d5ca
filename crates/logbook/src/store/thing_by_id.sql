-- Where an entry stands, by id.
SELECT place, order_ms FROM entry WHERE id = :id
