-- Hand readings of a source at a spot after an edge, nearest first.
SELECT place FROM hand WHERE spot = :spot AND source = :source AND at_ms > :edge ORDER BY at_ms, place
