-- Hand readings of a source at a spot before an edge, nearest first.
SELECT place FROM hand WHERE spot = :spot AND source = :source AND at_ms < :edge ORDER BY at_ms DESC, place DESC
