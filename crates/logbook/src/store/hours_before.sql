-- Blocks of a spot before an hour, nearest first: the hour and the entry that names it.
SELECT hour_ms, place FROM hour WHERE spot = :spot AND hour_ms BETWEEN :from AND :to ORDER BY hour_ms DESC
