-- Entries that hold at a spot over a stretch which touches the one asked for.
SELECT place FROM cover WHERE spot = :spot AND until_ms >= :from AND from_ms <= :to
