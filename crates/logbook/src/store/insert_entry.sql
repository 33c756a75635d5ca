-- The expected size stands in the statement: a log that moved on takes no row.
INSERT INTO entry (place, log, seq, id, kind, act, entered_ms, happened_ms, order_ms, leaf, bytes)
SELECT (num << 40) | (size + :later), id, size + :later, :id, :kind, :act, :entered, :happened, :order, :leaf, :bytes
FROM log WHERE num = :num AND size = :expected
