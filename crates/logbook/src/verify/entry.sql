-- One entry with all its columns, to compare them with its bytes.
SELECT log, seq, id, kind, act, entered_ms, happened_ms, order_ms, leaf, bytes FROM entry
WHERE place = (:log << 40) | :seq
