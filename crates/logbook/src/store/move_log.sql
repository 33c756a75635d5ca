-- A log grows, if it still has the size the writer saw.
UPDATE log SET size = :size, order_ms = :order, edge = :edge WHERE num = :num AND size = :expected
