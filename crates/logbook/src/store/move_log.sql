UPDATE log SET size = :size, order_ms = :order, edge = :edge WHERE num = :num AND size = :expected
