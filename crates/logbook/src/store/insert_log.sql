-- A new own log, empty.
INSERT INTO log (id, standing, size, order_ms, edge) VALUES (:id, 'own', 0, 0, x'')
